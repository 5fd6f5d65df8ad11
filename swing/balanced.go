package swing

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Balance says how a balanced field weighs staying close to the shortest arc
// against rolling little. [Balanced] takes [BalanceLambda] and [BalancePower].
type Balance struct {
	Lambda float64 // a steradian, over 0
	Power  int     // of n: 2 or 4
}

// Chosen by the strain of skin on ten characters, raised all over the hip's and the
// shoulder's range. A greater lambda strains less, and where arms hang at rest the
// field turns faster next to overhead: at 300 by 22 radians a radian, at 100 by 7.
// A lower one, and the fourth power, lets go of the shortest arc too early, which
// strains arms that are raised in front; the first power leaves fast turns overhead.
const (
	BalanceLambda = 100
	BalancePower  = 2
)

// Balanced returns the field by way of the centre that balances two things over
// the region: to roll little where the direction moves, and to stay close to the
// shortest arc from the axis, the direction at rest, which does not twist the
// skin between the limb and what it hangs on. With a the axis, θ the angle from it,
// n = cos(θ/2) and A the roll of the shortest arcs, z minimises
//
//	∫ |dz - i A z|^2  +  λ ∫ n^2 |z - 1|^2 dω
//
// over the region, and the field is the shortest arc turned by arg z about the
// axis. The weight n^2 lets go of the shortest arc where it is ill-defined,
// opposite the axis. It is one linear system (after Knöppel, Crane, Pinkall and
// Schröder 2013, "Globally optimal direction fields", ACM TOG 32(4):59; from
// memory).
//
// It is solved against the centred field, in the plane, as [LeastRoll] is: the
// first integral does not change under conformal maps. χ is then the spline whose
// gradient is nearest to that of the solution's angle.
//
// Outside the region nothing is minimised: there the gradient of χ is near to n^2
// times that of the shortest arc as far as cells reach, half the region's width
// or less, and falls level beyond. Roll there can be several times what it is inside.
//
// knots, axis, centre and region are as for LeastRoll; the centre decides by its
// distance from the region how fine the cells are, and not what is solved. Where the
// solution has a zero in the region, the field would have a singular point in it:
// that is an error that wraps [ErrSingular].
func Balanced(axis, centre r3.Vec, region Region, knots int) (*Field, error) {
	return Balance{Lambda: BalanceLambda, Power: BalancePower}.Field(axis, centre, region, knots)
}

// Field is [Balanced] with these weights.
func (o Balance) Field(axis, centre r3.Vec, region Region, knots int) (*Field, error) {
	p, err := prepare("balanced field", axis, centre, region, knots)
	if err != nil {
		return nil, err
	}
	if !(o.Lambda > 0 && o.Lambda <= math.MaxFloat32) || o.Power != 2 && o.Power != 4 {
		return nil, p.errorf("lambda is %g and power %d, expected a number over 0 and 2 or 4", o.Lambda, o.Power)
	}
	cells, err := p.cells(knots, balancedMargin(knots))
	if err != nil {
		return nil, err
	}
	tie := newTie(p.f, o)
	u, err := solveSection(cells, p.outline, tie)
	if err != nil {
		return nil, p.errorf("%w", err)
	}
	if u.isSingular(p.outline) {
		return nil, p.errorf("%w", ErrSingular)
	}
	return p.correct(cells, u.slope, tie.slope)
}

// balancedMargin is how many cells lie beside the region. A half of the knots, as
// in LeastRoll, would make the table larger than 52 by 52 for long regions; what lies
// farther out is no pose of the limb.
func balancedMargin(knots int) int { return knots/3 + 4 }
