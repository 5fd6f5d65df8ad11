package asset

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/num/quat"
)

// motion is one limb in one clip, as a function of time: the angle of every
// segment about the long axis.
type motion struct {
	limb *limb
	clip *clip
	n    int // segments
	// fine is the angle by which samples may leave the straight line between
	// their neighbours.
	fine           float64
	worstCondition float64 // least seen, and when
	worstTime      float64
	mostTwist      float64   // radians, of what the limb ramps
	worstBeyond    excursion // out of the joint's range
	history        *history  // nil where each pose stands for itself
	jumps          []jump
	left           int // samples that may still be taken between two keys
}

// Between two keys of the source no more samples are taken than this, nor is a
// stretch halved more often than that for fear of a singular pose. A jump takes
// some 30 halvings to find and a fast pass some hundred samples; a joint that
// rests in a singular pose would take every float32 there is.
const (
	mostSamples  = 4096
	mostCautious = 10
)

// jump is a place where the segments turn at once, with no time between.
type jump struct {
	time, angle float64
}

// sample is the solver's answer at one time.
type sample struct {
	time       float64
	joint, tip quat.Number
	angles     []float64
	twists     [2]float64 // own and of the tip
	condition  float64
}

// at solves the limb at one time of its clip.
func (m *motion) at(t float64) sample {
	s := sample{time: t, angles: make([]float64, m.n)}
	s.joint, s.tip = m.limb.fromRest(m.clip, t)
	result := m.limb.solver.Angles(s.angles, s.joint, s.tip)
	s.twists = [2]float64{result.Twist, result.TipTwist}
	if m.history != nil {
		s.twists = m.history.twists(m, &s)
		m.limb.angles(s.angles, s.twists)
	}
	m.worstBeyond.see(m.limb, &s)
	s.condition = 1
	if m.limb.usesOwn {
		if m.history == nil {
			s.condition = result.Condition
		}
		m.mostTwist = max(m.mostTwist, math.Abs(s.twists[0]))
	}
	if m.limb.usesTip {
		if m.history == nil {
			s.condition = min(s.condition, result.TipCondition)
		}
		m.mostTwist = max(m.mostTwist, math.Abs(s.twists[1]))
	}
	if s.condition < m.worstCondition {
		m.worstCondition, m.worstTime = s.condition, t
	}
	return s
}

// trace samples the motion so densely that straight lines between the samples
// stay within fine of it, from the first of times to the last.
func (m *motion) trace(times []float64) []sample {
	out := []sample{m.at(times[0])}
	for _, t := range times[1:] {
		m.left = mostSamples
		m.refine(&out, m.at(t), 0)
	}
	return out
}

// refine appends to, and before it whatever lies between it and the last
// sample there is.
func (m *motion) refine(out *[]sample, to sample, depth int) {
	from := (*out)[len(*out)-1]
	middle := between(from.time, to.time, 0.5)
	if middle == from.time || middle == to.time {
		// Neighbouring float32 times: what still differs is a jump.
		if angle := flip(from.angles, to.angles); angle > m.fine {
			m.jumps = append(m.jumps, jump{to.time, angle})
		}
		*out = append(*out, to)
		return
	}
	half := m.at(middle)
	if m.left--; m.left <= 0 || m.straight(from, half, to, depth < mostCautious) {
		*out = append(*out, half, to)
		return
	}
	m.refine(out, half, depth+1)
	m.refine(out, to, depth+1)
}

// straight reports whether nothing of note happens between three samples.
func (m *motion) straight(from, half, to sample, cautious bool) bool {
	// A twist turns at most 1/condition times as fast as its joint, and the
	// condition itself falls by at most half the angle the joint turns. So
	// where the joint turns by less than half the condition no singular pose
	// can hide between two samples. A radian is the most for any pose: beyond
	// it three points say little about a curve.
	turned := max(turn(from.joint, to.joint), turn(from.tip, to.tip))
	if cautious && turned > min(1, 0.5*min(from.condition, half.condition, to.condition)) {
		return false
	}
	if bent(from, half, to) > m.fine {
		return false
	}
	// A curve that crosses its chord in the middle shows at the quarters.
	for _, quarter := range []float64{0.25, 0.75} {
		t := between(from.time, to.time, quarter)
		if bent(from, m.at(t), to) > m.fine {
			return false
		}
	}
	return true
}

// between is the float32 time, as keys are stored, at a fraction of the way.
func between(a, b, fraction float64) float64 {
	return float64(float32(a + fraction*(b-a)))
}

// bent is how far s leaves the straight line from a to b.
func bent(a, s, b sample) (worst float64) {
	fraction := (s.time - a.time) / (b.time - a.time)
	for i, angle := range s.angles {
		worst = max(worst, math.Abs(angle-(a.angles[i]+fraction*(b.angles[i]-a.angles[i]))))
	}
	return worst
}

// apart is the largest difference of two samples' angles.
func apart(a, b []float64) (worst float64) {
	for i := range a {
		worst = max(worst, math.Abs(a[i]-b[i]))
	}
	return worst
}

// flip is the largest turn of a segment between two samples, whole turns being
// none.
func flip(a, b []float64) (worst float64) {
	for i := range a {
		worst = max(worst, math.Abs(math.Remainder(a[i]-b[i], 2*math.Pi)))
	}
	return worst
}

// turn is the angle between two rotations. Unset ones are equal.
func turn(a, b quat.Number) float64 {
	d := quat.Mul(quat.Conj(a), b)
	return 2 * math.Atan2(math.Hypot(math.Hypot(d.Imag, d.Jmag), d.Kmag), math.Abs(d.Real))
}

// thin keeps as few of the samples as straight lines within tolerance of all
// the others allow, the first and the last among them: from each kept sample it
// goes as far as one line can reach (the cone of slopes that pass all samples
// on the way; Imai and Iri 1988, greedy form, from memory).
func thin(samples []sample, tolerance float64) []sample {
	// Between two keys a viewer turns the short way round, so keys must not
	// be half a turn apart; 0.9 keeps clear of it.
	const farthest = 0.9 * math.Pi
	kept := []sample{samples[0]}
	for start := 0; start < len(samples)-1; {
		from := samples[start]
		low, high := slopes(len(from.angles))
		reach := start + 1
		for next := start + 1; next < len(samples); next++ {
			to := samples[next]
			span := to.time - from.time
			if apart(from.angles, to.angles) > farthest && next > start+1 {
				break
			}
			if inside(from, to, span, low, high) {
				reach = next
			}
			if !narrow(from, to, span, tolerance, low, high) {
				break
			}
		}
		start = reach
		kept = append(kept, samples[start])
	}
	return kept
}

func slopes(n int) (low, high []float64) {
	return slices.Repeat([]float64{math.Inf(-1)}, n), slices.Repeat([]float64{math.Inf(1)}, n)
}

// inside reports whether the line to a sample passes all samples before it.
func inside(from, to sample, span float64, low, high []float64) bool {
	for i := range low {
		slope := (to.angles[i] - from.angles[i]) / span
		if slope < low[i] || slope > high[i] {
			return false
		}
	}
	return true
}

// narrow takes a sample into the cone; false where no slope is left.
func narrow(from, to sample, span, tolerance float64, low, high []float64) bool {
	open := true
	for i := range low {
		rise := to.angles[i] - from.angles[i]
		low[i] = max(low[i], (rise-tolerance)/span)
		high[i] = min(high[i], (rise+tolerance)/span)
		open = open && low[i] <= high[i]
	}
	return open
}
