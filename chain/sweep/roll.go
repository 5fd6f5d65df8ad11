package sweep

import (
	"errors"
	"math"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Step is how far to either side of a direction its roll is measured, in
// radians.
//
// Sideways, the roll between d - Step and d + Step is the solid angle of the
// triangle that they make with the field's centre, 4 atan(T tan(Step/2)) at the
// angle theta from it, T = tan(theta/2) (derived, from the right triangle's
// tan(E/2) = tan(leg/2) tan(leg/2)). Divided by 2 Step that is T (1 + (1 - T^2)
// Step^2/12); along other directions too it is off by (T + T^3) Step^2/12 at
// most. Rounding turns each of the two swings by up to 16 eps sqrt(1 + T^2), 16
// eps sqrt(1 + T^2)/Step of the rate. The two meet near Step^3 = 192 eps/T^2:
// 3.5e-5 at a right angle from the centre and 7e-6 at 170 degrees. 1e-5 errs by
// 5e-10 and 1.7e-8 there at most, and by 1.3e-5 of 115 at 179 degrees.
const Step = 1e-5

// Swings reads a limb's field of swings off its solver: of a limb's segments,
// the one that keeps none of the joint's own twist is the swing itself.
//
// It allocates nothing after [NewSwings], and keeps the solver's answers in itself:
// one goroutine at a time.
type Swings struct {
	solver   *chain.Solver
	root     int
	segments []quat.Number
}

// NewSwings finds the segment to read. Limbs without a segment that takes no
// twist at all, such as forearms, have none.
func NewSwings(s *chain.Solver) (*Swings, error) {
	own, tip := s.Shares()
	for i, share := range own {
		if share == 0 && (tip == nil || tip[i] == 0) {
			return &Swings{solver: s, root: i, segments: make([]quat.Number, len(own))}, nil
		}
	}
	return nil, errors.New("sweep: every segment takes twist, expected one with a share of 0, which shows the swing")
}

// At is the swing to a direction of any finite non-zero length, read from the
// solver's answer to a joint that points there, and whether the solver says that
// it is defined. A direction of no length gives the identity, NaN gives NaN, both
// undefined.
func (s *Swings) At(d r3.Vec) (quat.Number, bool) {
	// Any rotation that carries the axis to d will do, the half turn that Arc
	// falls back on included: its roll is what the solver takes out.
	joint, turned := swing.Arc(s.solver.Axis(), d)
	if !turned && d == (r3.Vec{}) {
		return joint, false
	}
	result := s.solver.SolveFromRest(s.segments, joint, quat.Number{Real: 1})
	return s.segments[s.root], result.Defined
}

// Between is the roll from one unit direction to another, in radians within half
// a turn, beyond the shortest arc between them; false where a swing or the arc
// is undefined.
func (s *Swings) Between(from, to r3.Vec) (float64, bool) {
	start, ok := s.At(from)
	end, also := s.At(to)
	arc, determined := swing.Arc(from, to)
	rolled := quat.Mul(end, quat.Conj(quat.Mul(arc, start)))
	return angleAbout(rolled, to), ok && also && determined
}

// Roll is the roll's vector at a unit direction d: across d, its dot product with
// a velocity of the direction, in radians, is the roll in radians about d,
// right-handed. It is measured by central differences over [Step], and next to
// the singular direction over a 64th of the distance, good to a thousandth there.
// Where the swing is undefined, and within 1e-9 radians of it, too near to
// measure, the answer is NaN and false.
func (s *Swings) Roll(d r3.Vec) (r3.Vec, bool) {
	gap := r3.Norm(r3.Sub(d, s.Singular()))
	_, ok := s.At(d)
	if !ok || gap < nearest {
		return r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}, false
	}
	// The roll over 2 step must stay far below half a turn: it is 4 step/gap.
	step := min(Step, gap/64)
	u, _ := swing.Perpendicular(d)
	v := r3.Cross(d, u)
	along, ok := s.difference(d, u, step)
	across, also := s.difference(d, v, step)
	return r3.Add(r3.Scale(along, u), r3.Scale(across, v)), ok && also
}

// nearest is how near to the singular direction roll is measured, in radians. A
// 64th of it is 7e4 eps.
const nearest = 1e-9

// Rate is the length of the roll's vector: the roll, in radians, of a radian of
// motion in the direction that rolls most. NaN where the swing is undefined.
func (s *Swings) Rate(d r3.Vec) float64 {
	roll, ok := s.Roll(d)
	if !ok {
		return math.NaN()
	}
	return r3.Norm(roll)
}

// difference is the roll along the unit direction u, a radian.
func (s *Swings) difference(d, u r3.Vec, step float64) (float64, bool) {
	sin, cos := math.Sincos(step)
	ahead, aside := r3.Scale(cos, d), r3.Scale(sin, u)
	roll, ok := s.Between(r3.Sub(ahead, aside), r3.Add(ahead, aside))
	return roll / (2 * step), ok
}

// Winding is how many whole turns the swing makes about itself round a small
// circle about a unit direction, counted in the sense of the circle: 0
// where the field is smooth inside, and 2 about the field's singular direction,
// as the sphere's Euler number, 2, demands of a field with one such place.
//
// Rolls round the circle add up to 4 pi less its area or to minus its area, so no
// rounding can take one for the other.
func (s *Swings) Winding(d r3.Vec) int {
	const radius, sides = 1e-3, 32 // a side rolls by an eighth of a turn at most
	u, _ := swing.Perpendicular(d)
	v := r3.Cross(d, u)
	place := func(i int) r3.Vec {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
		return r3.Unit(r3.Add(d, r3.Add(r3.Scale(radius*cos, u), r3.Scale(radius*sin, v))))
	}
	sum := 0.
	for i := range sides {
		roll, _ := s.Between(place(i), place(i+1))
		sum += roll
	}
	return int(math.Round(sum / (2 * math.Pi)))
}

// Singular is the direction to which the field of swings has none: opposite its
// centre. Roll grows without bound towards it.
func (s *Swings) Singular() r3.Vec { return r3.Scale(-1, s.solver.Centre()) }

// angleAbout is the signed angle of a rotation that keeps a unit direction.
func angleAbout(q quat.Number, d r3.Vec) float64 {
	return math.Remainder(2*math.Atan2(r3.Dot(r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}, d), q.Real), 2*math.Pi)
}

// between is the angle from one rotation to another, 0 to pi.
func between(p, q quat.Number) float64 {
	d := rest.Frame{Rotation: quat.Mul(quat.Conj(p), q)}.Unit()
	return 2 * math.Atan2(r3.Norm(r3.Vec{X: d.Imag, Y: d.Jmag, Z: d.Kmag}), math.Abs(d.Real))
}
