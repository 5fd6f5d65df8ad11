package chain

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Crease says how flesh that meets in the fold of an elbow or a knee is eased
// apart. The zero value eases nothing.
type Crease struct {
	Part Part    // which side of the fold the limb is
	Most float64 // metres, the most that the limb moves; the other side moves as much the other way
	// Onset and Full are by how much the joint has closed from rest where the
	// relief begins and where it is whole, in radians. Both 0 mean CreaseOnset
	// and CreaseFull.
	Onset, Full float64
	// NearRest and FarRest are the directions at rest from the joint up the
	// near bone and down the far one; both zero mean a straight limb.
	NearRest, FarRest r3.Vec
}

// Part is the side of a fold.
type Part int

const (
	NearPart Part = iota // the fold is at the bone's end: upper arm, thigh
	FarPart              // the fold is at the bone's root: forearm, shin
)

const (
	// CreaseOnset and CreaseFull are when relief begins and is whole where a
	// crease does not say: flesh meets from some 40 degrees on (common
	// practice, no source), and knees flex to some 140 degrees, elbows to some
	// 147 (CDC Normal Joint Range of Motion study, ages 20 to 44).
	CreaseOnset, CreaseFull = 40 * math.Pi / 180, 140 * math.Pi / 180
	// flat is the angle between two bones below which they count as folded
	// flat and the relief fades: the direction apart turns as fast as the
	// bones do over the angle between them, and 5 degrees is out of the reach
	// of elbows and knees.
	flat = 5 * math.Pi / 180
)

// Relief is how far a fold is eased.
type Relief struct {
	Closed float64 // radians by which the joint has closed from rest; negative past rest
	Amount float64 // metres, that each part moves at the joint
	Apart  r3.Vec  // unit, the way the near part moves, the far part going against it; zero where there is none
}

// Creaser eases one limb's side of a fold. It is read only, safe for concurrent
// use, and allocates nothing when it solves. [NewCreaser] makes it; the zero value
// is of no use.
//
// With u the direction from the joint up the near bone and v down the far bone
// the parts move apart across the plane that bisects the two bones: the near one
// along (u - v)/|u - v|, the far one against it. The amount is
//
//	most · smooth((closed - onset)/(full - onset)),  smooth(x) = 3x² - 2x³
//
// held at its ends, so it leaves 0 without slope and never exceeds most. It
// falls off along the bone by the same curve: segment i of n moves by smooth(x)
// of it, x being 0 at the far end's segment and 1 at the fold's, in steps of
// 1/(n-1), so that the other end of the bone stays where it is.
//
// Two bones in line, u = -v, ease along the bone. Two that lie on one another,
// u = v, have no plane between them: over the last 5 degrees before that the
// relief fades to none, smoothly.
type Creaser struct {
	spec    Crease
	rest    float64   // radians between the bones at rest
	profile []float64 // signed: the far part moves against Apart
}

// NewCreaser checks the specification against its limb, which gives name and
// number of segments. The error names the limb and the field.
func NewCreaser(l Limb, spec Crease) (*Creaser, error) {
	n, err := l.count()
	if err != nil {
		return nil, err
	}
	if spec.Part != NearPart && spec.Part != FarPart {
		return nil, l.errorf("crease: part is %d, expected NearPart or FarPart", spec.Part)
	}
	if !(spec.Most >= 0 && spec.Most*0 == 0) {
		return nil, l.errorf("crease: most is %g, expected a finite number of metres, 0 or more", spec.Most)
	}
	if spec.Onset == 0 && spec.Full == 0 {
		spec.Onset, spec.Full = CreaseOnset, CreaseFull
	}
	if !(spec.Onset >= 0 && spec.Onset < spec.Full && spec.Full <= math.Pi) {
		return nil, l.errorf("crease: onset is %g and full %g, expected 0 or more, then more than that and at most pi", spec.Onset, spec.Full)
	}
	if spec.NearRest == (r3.Vec{}) && spec.FarRest == (r3.Vec{}) {
		spec.NearRest, spec.FarRest = r3.Vec{Y: 1}, r3.Vec{Y: -1}
	}
	if spec.NearRest, err = l.unit("crease: near rest", spec.NearRest); err != nil {
		return nil, err
	}
	if spec.FarRest, err = l.unit("crease: far rest", spec.FarRest); err != nil {
		return nil, err
	}
	c := &Creaser{spec: spec, profile: make([]float64, n)}
	c.rest, _ = opening(spec.NearRest, spec.FarRest)
	for i := range c.profile {
		x := float64(i) / float64(n-1)
		if spec.Part == NearPart {
			c.profile[i] = smooth(x)
		} else {
			c.profile[i] = -smooth(1 - x)
		}
	}
	return c, nil
}

// Segments is how many moves a solve writes.
func (c *Creaser) Segments() int { return len(c.profile) }

// Solve writes by how much each segment moves from its place, in metres, in the
// frame that the bones' directions come in, to dst, which has Segments() elements
// (anything else panics). near and far are the directions from the joint up the
// near bone and down the far one, of any length whose square is finite and not 0.
// A zero one moves nothing; NaN and Inf give NaN.
func (c *Creaser) Solve(dst []r3.Vec, near, far r3.Vec) Relief {
	if len(dst) != len(c.profile) {
		panic("chain: dst has another length than the limb has segments")
	}
	out := c.Relief(near, far)
	for i, part := range c.profile {
		dst[i] = r3.Scale(part*out.Amount, out.Apart)
	}
	return out
}

// Relief is how far the fold is eased, at the joint.
func (c *Creaser) Relief(near, far r3.Vec) Relief {
	if near == (r3.Vec{}) || far == (r3.Vec{}) {
		return Relief{}
	}
	angle, apart := opening(r3.Unit(near), r3.Unit(far))
	out := Relief{Closed: c.rest - angle}
	if apart != (r3.Vec{}) {
		out.Apart = r3.Unit(apart)
	}
	out.Amount = c.spec.Most * smooth((out.Closed-c.spec.Onset)/(c.spec.Full-c.spec.Onset)) * smooth(angle/flat)
	return out
}

// opening is the angle between two unit directions, and the one less the other.
func opening(u, v r3.Vec) (angle float64, apart r3.Vec) {
	apart = r3.Sub(u, v)
	return 2 * math.Atan2(r3.Norm(apart), r3.Norm(r3.Add(u, v))), apart
}

// smooth rises from 0 to 1 over 0 to 1, level at both ends and beyond; NaN stays.
func smooth(x float64) float64 {
	x = min(max(x, 0), 1)
	return x * x * (3 - 2*x)
}
