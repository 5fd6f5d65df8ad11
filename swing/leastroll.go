package swing

import "gonum.org/v1/gonum/spatial/r3"

// Knots is the number of cells across a region that serves every range of
// motion here: worst and root mean square are good to 1 %, but for the worst at a
// corner that points inwards, where the least roll has no bound.
const Knots = 20

// LeastRoll returns the field by way of the centre that rolls least over the region,
// in the mean square: its roll is that of no field with less.
//
// Sideways motion rolls the swing by a 1-form A whose curl is the same in every
// field, the area of the sphere. So the least is A = ⋆dψ with Δψ = 1 in the
// region and ψ = 0 on its edge, the torsion function of a bar with this section
// (Saint-Venant; Timoshenko and Goodier, Theory of Elasticity), and the roll a
// radian of motion is |∇ψ|. Solved here is the complementary form: χ minimises
// the integral of |A_c + dχ|^2 over the region, A_c being the centred field's
// roll. That integral does not change under conformal maps, so it is taken in
// the stereographic plane about the centre, where the sphere has no poles.
//
// Outside the region χ goes on as a weightless membrane would, and levels off
// at a constant: it is smooth, and no more. 10 degrees beyond a corner of a
// shoulder's range the roll is 3.5 radians a radian, inside 1.6 at most.
//
// knots is the number of cells across the region, 4 to 64; [Knots] is a good
// choice. The correction's error falls with its square or faster, the roll's, a
// derivative, with a lower power. Axis and centre are as in [NewField]; the region
// must lie within 170 degrees of the centre, and is refused where it is so thin, some
// 20 times as long as wide, that an eighth of the knots does not lie across it.
// It is refused too where it is a ring or nearly closes to one, with a gap below
// some 40 degrees: in a ring the least roll has another solution, that winds.
func LeastRoll(axis, centre r3.Vec, region Region, knots int) (*Field, error) {
	p, err := prepare("least-roll field", axis, centre, region, knots)
	if err != nil {
		return nil, err
	}
	cells, err := p.cells(knots, knots/2+3)
	if err != nil {
		return nil, err
	}
	return p.correct(cells, func(p *place) (gx, gy float64) { return rolledBack(p.x, p.y) }, nil)
}

// What χ costs everywhere, beside the roll inside: so little that the field
// inside changes by less than 0.1 %, and enough to hold the splines that reach
// into the region by a sliver. Ten times the stretching makes a cap's worst roll
// 1.2 % too large, where this has 0.6.
const (
	stretching = 2e-5 // times |dχ|^2
	bending    = 2e-4 // times the squared second derivatives and the cell's area
)

// solveTorsion fills in the coefficients that minimise the integral of |dχ - g|^2
// over the inside of the outline. outside, which may be nil for zero, takes g's place
// in what little χ costs everywhere.
func (s *spline) solveTorsion(outline []point, g func(p *place) (x, y float64), outside func(x, y float64) (gx, gy float64)) error {
	system := newSystem(s)
	elements := make([]element, s.nx*s.ny)
	var everywhere element
	for _, v := range gauss {
		for _, u := range gauss {
			b, weight := s.basis(u.at, v.at), float64(u.weight*v.weight)
			everywhere.roll(b, stretching*weight, 0, 0)
			everywhere.bend(b, bending*s.step*s.step*weight)
			if outside == nil {
				continue
			}
			for k := range elements {
				x, y := float64(k%s.nx)+u.at, float64(k/s.nx)+v.at
				gx, gy := outside(s.x+float64(x*s.step), s.y+float64(y*s.step))
				elements[k].pull(&b, stretching*weight, gx, gy)
			}
		}
	}
	s.inside(outline, func(p *place) {
		gx, gy := g(p)
		elements[p.j*s.nx+p.i].roll(s.basis(p.u, p.v), p.weight, gx, gy)
	})
	for k := range elements {
		system.add(&elements[k], k%s.nx, k/s.nx)
		system.add(&everywhere, k%s.nx, k/s.nx)
	}
	return system.solve()
}

// rolledBack is what the centred field rolls back at a place of the plane: minus
// its roll, 2/(1+r^2) (-y, x).
func rolledBack(x, y float64) (gx, gy float64) {
	factor := 2 / (1 + float64(x*x) + float64(y*y))
	return -factor * y, factor * x
}
