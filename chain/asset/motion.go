package asset

import (
	"math"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
)

// motion is one limb in one clip, as a function of time: the twists that its
// segments share out. It holds room to work in, so one goroutine uses it at a time.
type motion struct {
	limb *limb
	clip *clip
	// fine is the angle by which samples may leave the straight line between
	// their neighbours.
	fine    float64
	joint   bool     // whether the joint is looked at, or the tip alone
	history *history // nil where each pose stands for itself
	left    int      // samples that may still be taken between two keys
	seen    seen

	anchorWalk, jointWalk, tipWalk turnWalk
	// Where the anchor stands still, back undoes it; tipBack undoes the tip's rest.
	back, tipBack quat.Number

	pair *room // to solve few poses in

	// What bridges undefined twists, own and of the tip: the clip's first and last
	// time, the stretches found last, and room to look for them.
	span  [2]float64
	gaps  [2]gap
	probe *room
}

// sample is the solver's answer at one time.
type sample struct {
	time       float64
	joint, tip quat.Number // standing still where nothing depends on it
	twists     [2]float64  // own and of the tip
	condition  float64
	conditions [2]float64 // of the two twists; condition is the less
}

// seen is what is worth telling of the samples taken.
type seen struct {
	condition, when float64 // the least, and when
	twist           float64 // radians, the most, of what the limb ramps
	watch           watch
	jumps           []jump
}

// jump is a place where the segments turn at once, with no time between.
type jump struct {
	time, angle float64
}

func (s *splitter) motion(l *limb, c *clip) *motion {
	m := &motion{
		limb: l, clip: c, fine: s.options.Tolerance / 8, joint: l.usesOwn || s.options.History,
		pair: newRoom(2),
	}
	m.anchorWalk, m.jointWalk, m.tipWalk = l.anchorTurn.walkIn(c), l.jointTurn.walkIn(c), l.tipTurn.walkIn(c)
	m.back, m.tipBack = l.solver.FromRest(chain.Pose{Anchor: rest.Frame{Rotation: m.anchorWalk.rest}})
	m.forget()
	return m
}

// another is the same motion for another goroutine.
func (m *motion) another() *motion {
	out := *m
	out.pair, out.probe, out.gaps = newRoom(2), nil, [2]gap{}
	out.forget()
	return &out
}

// forget begins anew with what there is to tell.
func (m *motion) forget() { m.seen = seen{condition: 1, watch: m.limb.watch()} }

// join takes in what was seen later.
func (s *seen) join(later seen) {
	if later.condition < s.condition {
		s.condition, s.when = later.condition, later.when
	}
	s.twist = max(s.twist, later.twist)
	if later.watch.beyond > s.watch.beyond {
		s.watch.excursion = later.watch.excursion
	}
	s.jumps = append(s.jumps, later.jumps...)
}

// room is what solving a number of poses takes.
type room struct {
	times                        []float64
	anchors, joints, tips, spare []quat.Number
	angles                       []float64 // what measure.solve gives
	samples                      []sample
}

func newRoom(n int) *room {
	turns := make([]quat.Number, 4*n)
	return &room{
		times: make([]float64, 0, n), anchors: turns[:n], joints: turns[n : 2*n], tips: turns[2*n : 3*n], spare: turns[3*n:],
		angles: make([]float64, 2*n), samples: make([]sample, n),
	}
}

// at solves the limb at one time of its clip.
func (m *motion) at(t float64) sample { return m.few(t)[0] }

// few solves the limb at one time or two that do not fall. The samples are good until
// it is called again.
func (m *motion) few(times ...float64) []sample {
	m.pair.times = append(m.pair.times[:0], times...)
	return m.solve(m.pair)
}

// solve solves the limb at the room's times, which do not fall. The samples are
// good until the room is used again.
func (m *motion) solve(r *room) []sample {
	samples := m.poses(r)
	for i := range samples {
		s := &samples[i]
		if m.history != nil {
			s.twists = m.history.twists(m, s)
			s.condition = 1 // no pose is singular
		} else if s.condition < leastCondition {
			m.bridge(s)
		}
	}
	m.seen.see(m.limb, samples)
	return samples
}

// poses solves each of the room's times by itself.
func (m *motion) poses(r *room) []sample {
	n := len(r.times)
	joints, tips := r.joints[:n], r.tips[:n]
	m.fromRest(r, joints, tips)
	m.limb.measure.solve(r.angles[:2*n], joints, tips)
	samples := r.samples[:n]
	for i, t := range r.times {
		s := &samples[i]
		s.time, s.joint, s.tip, s.conditions = t, joints[i], tips[i], [2]float64{1, 1}
		s.twists = [2]float64{-r.angles[2*i], r.angles[2*i+1]}
		if m.limb.usesOwn {
			s.conditions[0] = m.limb.own.of(&s.joint)
		}
		if m.limb.usesTip {
			s.conditions[1] = m.limb.tip.of(&s.tip)
		}
		s.condition = min(s.conditions[0], s.conditions[1])
	}
	return samples
}

// see looks at samples that were taken one after another.
func (s *seen) see(l *limb, samples []sample) {
	for i := range samples {
		now := &samples[i]
		if l.usesOwn {
			s.twist = max(s.twist, math.Abs(now.twists[0]))
		}
		if l.usesTip {
			s.twist = max(s.twist, math.Abs(now.twists[1]))
		}
		if now.condition < s.condition {
			s.condition, s.when = now.condition, now.time
		}
	}
	if s.watch.interest > 0 {
		for i := range samples {
			s.watch.see(&samples[i])
		}
	}
}

// fromRest gives the joint's and the tip's rotations from rest at the room's times.
func (m *motion) fromRest(r *room, joints, tips []quat.Number) {
	l, n := m.limb, len(r.times)
	anchors, spare := r.anchors[:n], r.spare[:n]
	// A room holds what it was used for last.
	fill(joints, quat.Number{Real: 1})
	fill(tips, quat.Number{Real: 1})
	if m.joint {
		m.jointWalk.rotations(joints, spare, r.times)
		if m.anchorWalk.still {
			for i := range joints {
				joints[i] = quat.Mul(m.back, joints[i])
			}
		} else {
			m.anchorWalk.rotations(anchors, spare, r.times)
			for i := range joints {
				joints[i], _ = l.solver.FromRest(chain.Pose{Anchor: rest.Frame{Rotation: anchors[i]}, Joint: rest.Frame{Rotation: joints[i]}})
			}
		}
		if l.jointTurn.mirrored {
			for i := range joints {
				joints[i] = rest.AcrossX.Rotation(joints[i])
			}
		}
	}
	if l.usesTip {
		m.tipWalk.rotations(tips, spare, r.times)
		for i := range tips {
			tips[i] = l.outside(quat.Mul(tips[i], m.tipBack))
		}
	}
}

// outside is a tip's rotation from rest where the solver stands: outside the
// joint's own scale, within which the tip turns.
func (l *limb) outside(tip quat.Number) quat.Number {
	if l.scaled {
		if angle, defined := twist.Angle(tip, l.axis); defined {
			return twist.About(l.solver.Axis(), l.sense*angle)
		}
	}
	return tip
}
