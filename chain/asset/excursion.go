package asset

import (
	"math"

	"github.com/pronate/pronate/rest"
)

// Excursion is a clip's leaving a joint's range of motion.
type Excursion struct {
	Clip      string  `json:"clip"`
	Limb      string  `json:"limb"`
	Joint     string  `json:"joint"`
	Beyond    float64 `json:"beyond_deg"` // the farthest
	Time      float64 `json:"time_s"`     // then
	Flexion   float64 `json:"flexion_deg"`
	Abduction float64 `json:"abduction_deg"`
}

// tellBeyond is how far out of its range a joint has to go to be told of, in
// radians. Published ranges differ by 5 to 20 degrees, and a clip that is out
// by one is none the worse.
const tellBeyond = math.Pi / 180

// excursion is the farthest seen, in radians.
type excursion struct {
	beyond, time, flexion, abduction float64
}

// see looks at where the bone points in a sample.
func (e *excursion) see(l *limb, s *sample) {
	motion := l.solver.Range()
	if !l.usesOwn || motion.IsZero() {
		return
	}
	to := rest.Frame{Rotation: s.joint}.Direction(l.solver.Axis())
	if beyond := motion.Beyond(to); beyond > e.beyond {
		e.beyond, e.time = beyond, s.time
		e.flexion, e.abduction = motion.Angles(to)
	}
}

// beyondAtRest is how far out of its range the bone is at rest, in radians.
func (l *limb) beyondAtRest() float64 {
	motion := l.solver.Range()
	if !l.usesOwn || motion.IsZero() {
		return 0
	}
	return motion.Beyond(l.solver.Axis())
}

// excursion reports a limb's worst in a clip, where it is worth telling: where
// rest is out of the range itself, which a warning tells of once, a clip has to
// go farther.
func (s *splitter) excursion(l *limb, c *clip, e excursion) {
	if e.beyond < l.beyondAtRest()+tellBeyond {
		return
	}
	const degrees = 180 / math.Pi
	s.excursions = append(s.excursions, Excursion{
		Clip: c.name, Limb: l.spec.Name, Joint: l.spec.Joint, Beyond: e.beyond * degrees, Time: e.time,
		Flexion: e.flexion * degrees, Abduction: e.abduction * degrees,
	})
}
