package swing

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Knots is the number of cells across a region that serves every range of
// motion here: worst and root mean square are good to 1 %.
const Knots = 20

// farthest is how far from its centre a region of Best may reach, in radians:
// in the plane that is a distance of 11, and the cells near the origin are
// coarse already.
const farthest = 170 * math.Pi / 180

// Best returns the field by way of the centre that rolls least over the region,
// in the mean square: its roll is that of no field with less.
//
// Sideways motion rolls the swing by a 1-form A whose curl is the same in every
// field, the area of the sphere. So the best one is A = ⋆dψ with Δψ = 1 in the
// region and ψ = 0 on its edge, the torsion function of a bar with this section
// (Saint-Venant; Timoshenko and Goodier, Theory of Elasticity), and the roll a
// radian of motion is |∇ψ|. Solved here is the complementary form: χ minimises
// the integral of |A_c + dχ|^2 over the region, A_c being the centred field's
// roll. That integral does not change under conformal maps, so it is taken in
// the stereographic plane about the centre, where the sphere has no poles.
//
// Outside the region χ goes on as a weightless membrane would, and levels off
// at a constant, so that poses beyond the range are as smooth as those in it.
//
// knots is the number of cells across the region, 4 to 64; [Knots] is a good
// choice. The error falls with its square or faster. Axis and centre are as in
// NewField; the region must lie within 170 degrees of the centre.
func Best(axis, centre r3.Vec, region Region, knots int) (*Field, error) {
	f, err := NewField(axis, centre)
	if err != nil {
		return nil, err
	}
	if knots < 4 || knots > 64 {
		return nil, fmt.Errorf("swing: best field: %d knots, expected 4 to 64", knots)
	}
	if region.edge == nil {
		return nil, errors.New("swing: best field: no region")
	}
	outline := make([]point, len(region.edge))
	for i, d := range region.edge {
		if math.Atan2(math.Sqrt(norm2(cross(d, f.centre))), dot(d, f.centre)) > farthest {
			return nil, errFar
		}
		outline[i].x, outline[i].y = f.Plane(d)
	}
	if signedArea(outline) <= 0 { // its inside is the side with the point opposite the centre
		return nil, errFar
	}
	s, err := solveTorsion(outline, knots)
	if err != nil {
		return nil, err
	}
	if s.greatest() > math.Pi {
		return nil, errors.New("swing: best field: the correction passes half a turn, expected a smaller region or a centre nearer its middle")
	}
	f.correction = s
	f.settle()
	return f, nil
}

var errFar = errors.New("swing: best field: the region reaches farther than 170 degrees from the centre")

type point struct{ x, y float64 }

func signedArea(loop []point) float64 {
	sum := 0.
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		sum += p.x*q.y - q.x*p.y
	}
	return sum / 2
}

// What χ costs everywhere, beside the roll inside: so little that the field
// inside changes by less than 0.1 %.
const (
	stretching = 2e-4 // times |dχ|^2
	bending    = 8e-4 // times the squared second derivatives and the cell's area
)

// solveTorsion minimises the integral of |dχ - g|^2 over the inside of the
// outline, g = 2/(1+r^2) (-y, x) being what the centred field rolls back.
func solveTorsion(outline []point, knots int) (*spline, error) {
	s := box(outline, knots)
	system := newSystem(s)
	var everywhere element
	for _, g := range gauss {
		for _, h := range gauss {
			b := s.basis(h.at, g.at)
			everywhere.roll(b, stretching*g.weight*h.weight, 0, 0)
			everywhere.bend(b, bending*s.step*s.step*g.weight*h.weight)
		}
	}
	inside := make([]element, s.nx)
	for j := range s.ny {
		clear(inside)
		for _, g := range gauss {
			y := s.y + (float64(j)+g.at)*s.step
			crossings := crossings(outline, y)
			for k := 0; k+1 < len(crossings); k += 2 {
				s.row(inside, crossings[k], crossings[k+1], y, g.at, g.weight)
			}
		}
		for i := range s.nx {
			system.add(&inside[i], i, j)
			system.add(&everywhere, i, j)
		}
	}
	return s, system.solve()
}

// row integrates the roll along the line at y, v of a cell's side up, from one
// crossing to the next.
func (s *spline) row(inside []element, from, to, y, v, weight float64) {
	last := int((to - s.x) / s.step)
	for i := int((from - s.x) / s.step); i <= last; i++ {
		corner := s.x + float64(i)*s.step
		a, b := max(from, corner), min(to, corner+s.step)
		for _, g := range gauss {
			x := a + g.at*(b-a)
			factor := 2 / (1 + x*x + y*y)
			inside[i].roll(s.basis((x-corner)/s.step, v), weight*g.weight*max(0, b-a)/s.step, -factor*y, factor*x)
		}
	}
}

// box lays cells over the outline and half as far again on every side.
func box(outline []point, knots int) *spline {
	least, most := outline[0], outline[0]
	for _, p := range outline {
		least = point{min(least.x, p.x), min(least.y, p.y)}
		most = point{max(most.x, p.x), max(most.y, p.y)}
	}
	width, height := most.x-least.x, most.y-least.y
	// A narrow region has its cells from its width too.
	step := max(math.Sqrt(width*height), max(width, height)/3) / float64(knots)
	margin := knots/2 + 3
	nx, ny := int(math.Ceil(width/step))+2*margin, int(math.Ceil(height/step))+2*margin
	return &spline{
		x: (least.x + most.x - float64(nx)*step) / 2, y: (least.y + most.y - float64(ny)*step) / 2,
		step: step, nx: nx, ny: ny, coef: make([]float32, (nx+3)*(ny+3)),
	}
}

// crossings are where the outline crosses the line at y, from left to right: an
// even number.
func crossings(outline []point, y float64) []float64 {
	var xs []float64
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		if (p.y <= y) != (q.y <= y) {
			xs = append(xs, p.x+(q.x-p.x)*(y-p.y)/(q.y-p.y))
		}
	}
	slices.Sort(xs)
	return xs
}

// gauss is Gauss and Legendre's rule with four places in [0, 1], exact for
// products of cubics (Abramowitz and Stegun, table 25.4).
var gauss = [4]struct{ at, weight float64 }{
	{(1 - 0.8611363115940526) / 2, 0.3478548451374538 / 2},
	{(1 - 0.3399810435848563) / 2, 0.6521451548625461 / 2},
	{(1 + 0.3399810435848563) / 2, 0.6521451548625461 / 2},
	{(1 + 0.8611363115940526) / 2, 0.3478548451374538 / 2},
}
