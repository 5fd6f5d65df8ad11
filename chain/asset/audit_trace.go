package asset

import (
	"math"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/num/quat"
)

// hingeMotion is one hinge in one clip.
//
// It is sampled until no angle can rise by 0.05 degrees between two samples. Along
// a steady turn, unit speed, the second derivatives of flexion, side-bend b and
// twist are at most 3/cos(b)^2 (the azimuth of a vector of length cos(b) whose
// first two derivatives are at most 1). So over hingeStep, 2 degrees, an angle
// leaves its chord by at most 3 hingeStep^2 / (8 cos(b)^2): 0.026 degrees at b = 0
// and 0.044 at b = 39, far beyond any hinge. Turns that are not steady, those of
// cubic splines and of several joints at once, are halved too until the angles
// half-way are within hingeFine of the chord; and a stretch between keys is first
// cut in four, since a cubic that points one way at five places is still. The worst
// samples are then sharpened by golden section between their neighbours.
type hingeMotion struct {
	hinge     *auditHinge
	clip      *clip
	last      hingeSample
	peaks     [worstKinds]hingePeak
	left      int  // samples that may still be taken between two keys
	undefined bool // some sample is
}

// hingePeak is the worst sample so far and the times of its neighbours.
type hingePeak struct {
	hingeSample
	before, after float64
}

const (
	hingeStep  = 2 * math.Pi / 180
	hingeFine  = 0.01 * math.Pi / 180
	hingeParts = 2 // halvings of a stretch between keys, at least
)

// hingeSample is the hinge at one time.
type hingeSample struct {
	time   float64
	joint  quat.Number
	angles chain.HingeAngles
}

// What worst looks for.
const (
	byTwist = iota
	bySideBend
	byFlexion
	byExtension
	worstKinds
)

// of is how bad a sample is.
func (s *hingeSample) of(kind int) float64 {
	switch kind {
	case byTwist:
		return math.Abs(s.angles.Twist)
	case bySideBend:
		return math.Abs(s.angles.SideBend)
	case byFlexion:
		return s.angles.Flexion
	}
	return -s.angles.Flexion
}

func (m *hingeMotion) at(t float64) hingeSample {
	q := m.hinge.fromRest(m.clip, t)
	s := hingeSample{time: t, joint: q, angles: m.hinge.hinge.Measure(q)}
	m.undefined = m.undefined || !s.angles.Defined
	return s
}

// worst returns the samples of the worst twist and side-bend and of the largest
// flexion and extension, the first where several are alike.
func (m *hingeMotion) worst() (out [worstKinds]hingeSample) {
	times := keyTimes(m.hinge.turn.tracks(m.clip))
	if len(times) == 0 {
		times = []float64{0}
	}
	m.last = m.at(times[0])
	for kind := range m.peaks {
		m.peaks[kind] = hingePeak{m.last, times[0], times[0]}
	}
	for _, t := range times[1:] {
		// A channel that steps holds its value until right before the key.
		m.left = mostSamples
		m.refine(m.at(math.Nextafter(t, 0)), 0)
		m.take(m.at(t))
	}
	for kind, p := range m.peaks {
		out[kind] = p.hingeSample
		m.sharpen(&out[kind], kind, p.before, p.time)
		m.sharpen(&out[kind], kind, p.time, p.after)
	}
	return out
}

// take goes on to a sample.
func (m *hingeMotion) take(s hingeSample) {
	for kind := range m.peaks {
		p := &m.peaks[kind]
		if p.after == p.time {
			p.after = s.time
		}
		if s.of(kind) > p.of(kind) {
			*p = hingePeak{s, m.last.time, s.time}
		}
	}
	m.last = s
}

// refine takes a sample, and before it what lies between it and the last one.
func (m *hingeMotion) refine(to hingeSample, depth int) {
	from := m.last
	middle := from.time + (to.time-from.time)/2
	if !(middle > from.time && middle < to.time) || m.left <= 0 {
		m.take(to)
		return
	}
	half := m.at(middle)
	m.left--
	if depth >= hingeParts && isNear(&from, &half, &to) {
		m.take(half)
		m.take(to)
		return
	}
	m.refine(half, depth+1)
	m.refine(to, depth+1)
}

// isNear reports whether nothing of note happens between three samples.
func isNear(from, half, to *hingeSample) bool {
	if max(turn(from.joint, half.joint), turn(half.joint, to.joint)) > hingeStep {
		return false
	}
	a, b, c := from.angles, half.angles, to.angles
	return midway(a.SideBend, b.SideBend, c.SideBend) && midway(a.Flexion, b.Flexion, c.Flexion) && midway(a.Twist, b.Twist, c.Twist)
}

// midway reports whether b is half-way between a and c, whole turns being none.
func midway(a, b, c float64) bool {
	return math.Abs(math.Remainder(b-a, 2*math.Pi)-math.Remainder(c-b, 2*math.Pi)) <= 2*hingeFine
}

// sharpen looks for something worse than best between two times, by golden section.
func (m *hingeMotion) sharpen(best *hingeSample, kind int, low, high float64) {
	if !(high > low) {
		return
	}
	const rounding = 1e-12 // radians: what is no worse than that is no news
	golden := (math.Sqrt(5) - 1) / 2
	a, b := m.at(high-golden*(high-low)), m.at(low+golden*(high-low))
	for range 40 { // to 4e-9 of the stretch
		s := &a
		if b.of(kind) > a.of(kind) {
			s = &b
		}
		if s.of(kind) > best.of(kind)+rounding {
			*best = *s
		}
		if s == &a {
			high, b = b.time, a
			a = m.at(high - golden*(high-low))
		} else {
			low, a = a.time, b
			b = m.at(low + golden*(high-low))
		}
	}
}
