package sweep

import (
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
)

// MaxGain is by how much more than the joint a segment may turn before a step is
// looked into.
//
// A joint that turns at unit speed moves its bone by |d'| and rolls it by w,
// |d'|^2 + w^2 = 1. Segment i with the share k turns by d x d' and rolls by (1 -
// k) A·d' + k w, A being the roll's vector; by Cauchy and Schwarz the square of
// its speed is at most 1 + (1 - k)^2 A^2 + k^2, and the most of that over k in
// [0, 1] is 1 + max(1, A^2). Within 170 degrees of the centre, as far as a best
// field's range may go, a centred field has |A| <= tan 85 degrees. So the gain
// is at most 1/cos 85 degrees.
const MaxGain = 11.473713245669854

// Flip is a jump of a segment between two poses next to each other.
type Flip struct {
	At      Place   // where, to 1e-9 of the grid's step
	Segment int     // that jumps farthest, counted from 0
	Jump    float64 // how far, radians
}

// refinements halves a step of one degree to 2e-11 radians. A jump of any size
// that counts is then steep by more than 1e8, beyond anything smooth.
const refinements = 30

// Flips looks for jumps of a limb's segments over a grid of the range, with the
// bone's own rotation held. The step and the errors
// are as for [Motion.Map].
//
// A step from a pose to the next along either line of the grid is looked into
// where some segment turns by more than [MaxGain] times what the joint turns.
// Halved again and again, on the side that turns more, a steep place falls in
// proportion; a jump stays as large, and counts when it is still half of what
// it was.
//
// The segments with shares between 0 and 1 show most: they jump where the twist
// passes half a turn. Such places are lines, which no grid misses, and some start
// at the field's singular direction. The swing alone, share 0, jumps at that one
// direction, and only a grid with a place exactly there shows it.
//
// A bone that does not hang along Down at rest has its own rotation counted from
// there, by way of the shortest arc: its joint turns by Pose(...) · conj(arc(Down
// to axis)).
func Flips(s *chain.Solver, m Motion, rotation, step float64) ([]Flip, error) {
	flexion, abduction, err := grid(m.Range, step)
	if err != nil {
		return nil, err
	}
	base, _ := swing.Arc(m.Down, s.Axis())
	n := s.Segments()
	search := search{solver: s, motion: m, rotation: rotation, base: quat.Conj(base)}
	row, before := make([]sample, len(abduction)), make([]sample, len(abduction))
	for j := range row {
		row[j].segments, before[j].segments = make([]quat.Number, n), make([]quat.Number, n)
	}
	search.middle.segments, search.low.segments, search.high.segments = make([]quat.Number, n), make([]quat.Number, n), make([]quat.Number, n)
	var flips []Flip
	for i, f := range flexion {
		for j, b := range abduction {
			search.solve(&row[j], Place{f, b})
			if j > 0 {
				flips = search.step(flips, &row[j-1], &row[j])
			}
			if i > 0 {
				flips = search.step(flips, &before[j], &row[j])
			}
		}
		row, before = before, row
	}
	return flips, nil
}

// search holds what refining a step needs, so that it allocates nothing.
type search struct {
	solver            *chain.Solver
	motion            Motion
	rotation          float64
	base              quat.Number
	low, middle, high sample
}

// sample is the segments of a pose.
type sample struct {
	place    Place
	joint    quat.Number
	segments []quat.Number
}

func (s *search) solve(at *sample, place Place) {
	at.place = place
	at.joint = quat.Mul(s.motion.Pose(place.Flexion, place.Abduction, s.rotation), s.base)
	s.solver.SolveFromRest(at.segments, at.joint, quat.Number{Real: 1})
}

// turned is how far the segment that turns most turns.
func turned(a, b *sample) (segment int, angle float64) {
	for i := range a.segments {
		if t := between(a.segments[i], b.segments[i]); t > angle {
			segment, angle = i, t
		}
	}
	return segment, angle
}

// step appends the flip between two samples next to each other, if there is one.
func (s *search) step(flips []Flip, a, b *sample) []Flip {
	const rounding = 1e-9 // radians; of segments whose joint hardly turns
	segment, first := turned(a, b)
	if first <= MaxGain*between(a.joint, b.joint)+rounding {
		return flips
	}
	s.low.copy(a)
	s.high.copy(b)
	last := first
	for range refinements {
		s.solve(&s.middle, Place{
			(s.low.place.Flexion + s.high.place.Flexion) / 2,
			(s.low.place.Abduction + s.high.place.Abduction) / 2,
		})
		lower, before := turned(&s.low, &s.middle)
		upper, after := turned(&s.middle, &s.high)
		if before >= after {
			segment, last = lower, before
			s.high, s.middle = s.middle, s.high
		} else {
			segment, last = upper, after
			s.low, s.middle = s.middle, s.low
		}
	}
	if last < first/2 {
		return flips
	}
	return append(flips, Flip{At: s.low.place, Segment: segment, Jump: last})
}

func (a *sample) copy(b *sample) {
	a.place, a.joint = b.place, b.joint
	copy(a.segments, b.segments)
}
