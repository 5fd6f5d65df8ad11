package asset

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/num/quat"
)

// Between two keys of the source no more samples are taken than this, nor is a
// stretch halved more often than that for fear of a singular pose. A jump takes
// some 30 halvings to find and a fast pass some hundred samples; a joint that
// rests in a singular pose would take every float32 there is.
const (
	mostSamples  = 4096
	mostCautious = 10
)

// trace is a motion's twists, own and of the tip, sampled so densely that straight
// lines between the samples stay within fine of it.
type trace struct {
	samples trail
	middles trail // about half-way to each sample from the one before it
}

// add appends a sample and what lies half-way before it.
func (t *trace) add(middle, s *sample) {
	t.middles.times = append(t.middles.times, middle.time)
	t.middles.numbers = append(t.middles.numbers, middle.twists[0], middle.twists[1])
	t.samples.times = append(t.samples.times, s.time)
	t.samples.numbers = append(t.samples.numbers, s.twists[0], s.twists[1])
}

// traceBlock is how many stretches from key to key are solved in one go: a few
// hundred poses stay in the cores' caches.
const traceBlock = 64

var blocks = sync.Pool{New: func() any { return newRoom(4*traceBlock + 1) }}

// traceFrom traces the motion from the first of times, which is left out, to the last.
func (m *motion) traceFrom(times []float64) *trace {
	out := &trace{newTrail(2, 2*len(times)), newTrail(2, 2*len(times))}
	block := blocks.Get().(*room)
	defer blocks.Put(block)
	for len(times) > 1 {
		n := min(traceBlock, len(times)-1)
		at := append(block.times[:0], times[0])
		for i := range n {
			from, to := times[i], times[i+1]
			at = append(at, between(from, to, 0.25), between(from, to, 0.5), between(from, to, 0.75), to)
		}
		block.times = at
		samples := m.solve(block)
		for i := range n {
			m.left = mostSamples
			m.refine(out, samples[4*i:4*i+5], true, 0)
		}
		times = times[n:]
	}
	return out
}

// refine appends the last of five samples, and before it whatever lies between it
// and the first; the others are at the quarters. Those beside the half-way one may
// be still to be taken.
func (m *motion) refine(out *trace, s []sample, quarters bool, depth int) {
	from, half, to := &s[0], &s[2], &s[4]
	if half.time == from.time || half.time == to.time {
		// Neighbouring float32 times: what still differs is a jump.
		if angle := m.limb.flip(from.twists, to.twists); angle > m.fine {
			m.seen.jumps = append(m.seen.jumps, jump{to.time, angle})
		}
		out.add(to, to)
		return
	}
	m.left--
	enough := m.left <= 0
	if enough || !(depth < mostCautious && far(from, half, to)) && m.bent(from, half, to) <= m.fine {
		if !quarters {
			two := m.few(between(from.time, to.time, 0.25), between(from.time, to.time, 0.75))
			s[1], s[3] = two[0], two[1]
			quarters = true
		}
		// A curve that crosses its chord in the middle shows at the quarters.
		if enough || m.bent(from, &s[1], to) <= m.fine && m.bent(from, &s[3], to) <= m.fine {
			out.add(&s[1], half)
			out.add(&s[3], to)
			return
		}
	}
	first, second := m.halved(s[:3], quarters), m.halved(s[2:], quarters)
	m.refine(out, first[:], false, depth+1)
	m.refine(out, second[:], false, depth+1)
}

// halved is the five samples of a stretch of which the ends, and perhaps the one
// half-way, are known, without those at the quarters.
func (m *motion) halved(s []sample, known bool) [5]sample {
	out := [5]sample{0: s[0], 2: s[1], 4: s[2]}
	if middle := between(s[0].time, s[2].time, 0.5); !known || s[1].time != middle {
		out[2] = m.at(middle)
	}
	return out
}

// far reports whether a singular pose could hide between three samples. A twist
// turns at most 1/condition times as fast as its joint, and the condition itself
// falls by at most half the angle the joint turns. So where the joint turns by less
// than half the condition none can. A radian is the most for any pose: beyond it
// three points say little about a curve.
func far(from, half, to *sample) bool {
	most := min(1, 0.5*min(from.condition, half.condition, to.condition))
	return turnsBy(from.joint, to.joint, most) || turnsBy(from.tip, to.tip, most)
}

// turnsBy reports whether the angle between two rotations is more than most.
func turnsBy(a, b quat.Number, most float64) bool {
	d := quat.Mul(quat.Conj(a), b)
	// The angle is under twice the tangent of its half, but for rounding.
	if v := d.Imag*d.Imag + d.Jmag*d.Jmag + d.Kmag*d.Kmag; 4*v < 0.999*most*most*d.Real*d.Real {
		return false
	}
	return turn(a, b) > most
}

// turn is the angle between two rotations. Unset ones are equal.
func turn(a, b quat.Number) float64 {
	d := quat.Mul(quat.Conj(a), b)
	return 2 * math.Atan2(math.Hypot(math.Hypot(d.Imag, d.Jmag), d.Kmag), math.Abs(d.Real))
}

// bent is how far any segment leaves the straight line from a to b.
func (m *motion) bent(a, s, b *sample) float64 {
	fraction := (s.time - a.time) / (b.time - a.time)
	var off [2]float64
	for i, twist := range s.twists {
		off[i] = twist - (a.twists[i] + fraction*(b.twists[i]-a.twists[i]))
	}
	return m.limb.widest(off)
}
