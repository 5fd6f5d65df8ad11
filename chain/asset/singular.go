package asset

import "math"

// leastCondition is the condition below which the baker takes a pose's twist for
// undefined. Keys are float32, so components of a rotation are off by up to 2^-25
// and the two that make the twist, together, by some 2^-24; that turns the twist by
// 2 * 2^-24 / condition. Below 1.4e-4, which is within 0.016 degrees of the half
// turn, what a key says of the twist is off by more than DefaultTolerance, and at
// 1e-7 by anything. chain.MinCondition is about float64 and far below that.
const leastCondition = 2 * 0x1p-24 / DefaultTolerance

// gap is a stretch of time in which a twist is undefined, its ends among it.
type gap struct {
	from, to      float64
	before, after float64 // twists next to it
	found         bool
}

// at is the twist within a gap: it goes evenly from what is before to what is after.
// Where these are more than half a turn apart a segment jumps in any case; it does
// so at the gap's end.
func (g *gap) at(t float64) float64 {
	if g.to == g.from || math.Abs(g.after-g.before) > math.Pi {
		return g.before
	}
	return g.before + (g.after-g.before)*(t-g.from)/(g.to-g.from)
}

// bridge gives a sample, for each twist that its pose does not define, one that goes
// on from its neighbours in time.
func (m *motion) bridge(s *sample) {
	for i, condition := range s.conditions {
		if condition >= leastCondition {
			continue
		}
		if g := &m.gaps[i]; !g.found || s.time < g.from || s.time > g.to {
			*g = m.gap(i, s.time)
		}
		s.twists[i] = m.gaps[i].at(s.time)
	}
}

// gap finds the undefined stretch about a time. At an end of the clip it takes what
// the other side has; a clip that is undefined from end to end has no twist.
func (m *motion) gap(which int, t float64) gap {
	before, from, left := m.edge(which, t, m.span[0])
	after, to, right := m.edge(which, t, m.span[1])
	switch {
	case !left:
		before = after
	case !right:
		after = before
	}
	return gap{from: from, to: to, before: before, after: after, found: true}
}

// edge goes from an undefined time towards an end of the clip. It returns the last
// undefined time found and the twist next beyond it; false where there is none.
func (m *motion) edge(which int, t, end float64) (twist, last float64, ok bool) {
	undefined, defined := t, t
	for step := 1.0 / (1 << 20); ; step *= 2 { // seconds; float32 times are no closer from 16 s on
		defined = float64(float32(t + math.Copysign(step, end-t)))
		if math.Abs(end-t) <= step {
			defined = end
		}
		if twist, ok = m.defined(which, defined); ok {
			break
		}
		undefined = defined
		if defined == end {
			return 0, end, false
		}
	}
	for {
		middle := between(undefined, defined, 0.5)
		if middle == undefined || middle == defined {
			return twist, undefined, true
		}
		if now, is := m.defined(which, middle); is {
			twist, defined = now, middle
		} else {
			undefined = middle
		}
	}
}

// defined is a twist at one time, if the pose has one. Nothing of it is told.
func (m *motion) defined(which int, t float64) (twist float64, ok bool) {
	if m.probe == nil {
		m.probe = newRoom(1)
	}
	m.probe.times = append(m.probe.times[:0], t)
	s := &m.poses(m.probe)[0]
	return s.twists[which], s.conditions[which] >= leastCondition
}
