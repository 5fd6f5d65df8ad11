package asset

import (
	"math"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/spatial/r3"
)

// Excursion is a clip's leaving a joint's range of motion. Angles are degrees, those
// of [chain.Range]; the time is in seconds.
type Excursion struct {
	Clip         string  `json:"clip"`
	Limb         string  `json:"limb"`
	Joint        string  `json:"joint"`
	BeyondDeg    float64 `json:"beyond_deg"` // the farthest
	Time         float64 `json:"time_s"`     // then
	FlexionDeg   float64 `json:"flexion_deg"`
	AbductionDeg float64 `json:"abduction_deg"`
}

// tellBeyond is how far out of its range a joint has to go to be told of, in
// radians. Published ranges differ by 5 to 20 degrees, and a clip that is out
// by one is none the worse.
const tellBeyond = math.Pi / 180

// excursion is the farthest seen, in radians.
type excursion struct {
	beyond, time, flexion, abduction float64
}

// watch looks out for a joint's leaving its range of motion.
type watch struct {
	excursion
	motion   chain.Range // zero where there is nothing to look out for
	axis     r3.Vec
	interest float64 // what is not as far beyond is not told

	// Where the bone pointed when it was last looked at closely, and how far
	// beyond the range that was: until it has turned by what it takes to get
	// farther out than is of interest, there is no need to look again.
	looked   r3.Vec
	lookedAt float64
}

func (l *limb) watch() watch {
	if !l.usesOwn || l.solver.Range().IsZero() {
		return watch{}
	}
	return watch{motion: l.solver.Range(), axis: l.solver.Axis(), interest: l.beyondAtRest() + tellBeyond}
}

// see looks at where the bone points in a sample.
func (w *watch) see(s *sample) {
	to := steady.Rotate(s.joint, w.axis)
	if w.looked != (r3.Vec{}) {
		// An arc is at most pi/3 times a chord of at most 1.
		most := min(1, (max(w.beyond, w.interest)-w.lookedAt)*(3/math.Pi))
		if moved := r3.Sub(to, w.looked); most > 0 && r3.Dot(moved, moved) < most*most {
			return
		}
	}
	w.looked, w.lookedAt = to, w.motion.Beyond(to)
	if w.lookedAt > w.beyond {
		w.beyond, w.time = w.lookedAt, s.time
		w.flexion, w.abduction = w.motion.Angles(to)
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
		Clip: c.name, Limb: l.spec.Name, Joint: l.spec.Joint, BeyondDeg: e.beyond * degrees, Time: e.time,
		FlexionDeg: e.flexion * degrees, AbductionDeg: e.abduction * degrees,
	})
}
