package asset

import (
	"math"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/spatial/r3"
)

// shapeMotion is the places and sizes of one limb's segments in one clip, as a
// function of time. A sample's numbers are, for each segment, how far it is
// from its place at rest in the joint's frame (three, in bone lengths), its
// scale along the bone and its scale across: the same error in any of them
// moves skin by as much, the bone's length times it at most. So one tolerance
// serves them, and the tolerance of angles serves for it: by as much as that,
// times the bone's length, a turn moves the bone's other end.
type shapeMotion struct {
	limb *limb
	clip *clip
	fine float64 // by which samples may leave the straight line between their neighbours
	left int     // samples that may still be taken between two keys
	shapeFigures
}

// shapeFigures is what is worth telling of a limb's shape.
type shapeFigures struct {
	least, most float64 // ratio of the bone's length to rest; 0 where it does not stretch
	relief      float64 // metres
	short, when float64 // metres out of reach, and at what time
}

const shapeNumbers = 5

// atRest are the numbers of a segment as it is bound.
var atRest = [shapeNumbers]float64{3: 1, 4: 1}

// shapeSample is a limb's shape at one time.
type shapeSample struct {
	time    float64
	numbers []float64
}

// at shapes the limb at one time of its clip.
func (m *shapeMotion) at(t float64) shapeSample {
	l := m.limb
	n := len(l.segments)
	s := shapeSample{time: t, numbers: make([]float64, shapeNumbers*n)}
	for i := range n {
		s.numbers[shapeNumbers*i+3], s.numbers[shapeNumbers*i+4] = 1, 1
	}
	add := func(i int, move r3.Vec) {
		s.numbers[shapeNumbers*i] += move.X / l.length
		s.numbers[shapeNumbers*i+1] += move.Y / l.length
		s.numbers[shapeNumbers*i+2] += move.Z / l.length
	}
	if x := l.stretching; x != nil {
		ratio := x.distance(m.clip, t) / x.rest
		got := x.stretcher.ByRatio(x.pieces, ratio)
		for i, p := range x.pieces {
			add(i, r3.Scale(p.At-l.length*float64(i)/float64(n), l.axis))
			s.numbers[shapeNumbers*i+3], s.numbers[shapeNumbers*i+4] = p.Along, p.Across
		}
		m.stretched(got)
		if short := (ratio - got.Ratio) * x.metres; math.Abs(short) > math.Abs(m.short) {
			m.short, m.when = short, t
		}
	}
	if x := l.creasing; x != nil {
		near, far := x.bones(m.clip, t)
		relief := x.creaser.Solve(x.moves, near, far)
		for i, move := range x.moves {
			add(i, move)
		}
		m.relief = max(m.relief, relief.Amount*l.metres/l.length)
	}
	return s
}

func (f *shapeFigures) stretched(got chain.Length) {
	if f.most == 0 {
		f.least, f.most = got.Ratio, got.Ratio
	}
	f.least, f.most = min(f.least, got.Ratio), max(f.most, got.Ratio)
}

// trace samples the shape so densely that straight lines between the samples
// stay within fine of it.
func (m *shapeMotion) trace(out *trail, times []float64) {
	from := m.at(times[0])
	out.add(from.time, from.numbers...)
	for _, t := range times[1:] {
		m.left = mostSamples
		to := m.at(t)
		m.refine(out, from, to)
		from = to
	}
}

// refine appends a sample, and before it whatever lies between it and the last.
func (m *shapeMotion) refine(out *trail, from, to shapeSample) {
	middle := between(from.time, to.time, 0.5)
	if middle == from.time || middle == to.time {
		out.add(to.time, to.numbers...) // neighbouring float32 times: a jump
		return
	}
	half := m.at(middle)
	if m.left--; m.left <= 0 || m.straight(from, half, to) {
		out.add(half.time, half.numbers...)
		out.add(to.time, to.numbers...)
		return
	}
	m.refine(out, from, half)
	m.refine(out, half, to)
}

func (m *shapeMotion) straight(from, half, to shapeSample) bool {
	if bent(from, half, to) > m.fine {
		return false
	}
	// A curve that crosses its chord in the middle shows at the quarters.
	for _, quarter := range []float64{0.25, 0.75} {
		t := between(from.time, to.time, quarter)
		if t != from.time && t != to.time && bent(from, m.at(t), to) > m.fine {
			return false
		}
	}
	return true
}

// bent is how far s leaves the straight line from a to b.
func bent(a, s, b shapeSample) (worst float64) {
	fraction := (s.time - a.time) / (b.time - a.time)
	for i, x := range s.numbers {
		worst = max(worst, math.Abs(x-(a.numbers[i]+fraction*(b.numbers[i]-a.numbers[i]))))
	}
	return worst
}

// join takes another clip's figures in, all but what is told clip by clip.
func (f *shapeFigures) join(other shapeFigures) {
	if other.most != 0 {
		f.least, f.most = min(f.least, other.least), max(f.most, other.most)
	}
	f.relief = max(f.relief, other.relief)
}
