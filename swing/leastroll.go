package swing

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/spatial/r3"
)

// Knots is the number of cells across a region that serves every range of
// motion here: worst and root mean square are good to 1 %, but for the worst at a
// corner that points inwards, where the best field's roll has no bound.
const Knots = 20

// farthest is how far from its centre a region of LeastRoll may reach, in radians:
// in the plane that is a distance of 11, and the cells near the origin are
// coarse already.
const farthest = 170 * math.Pi / 180

// LeastRoll returns the field by way of the centre that rolls least over the region,
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
// choice. The correction's error falls with its square or faster, the roll's, a
// derivative, with a lower power. Axis and centre are as in [NewField]; the region
// must lie within 170 degrees of the centre, and is refused where it is so thin, some
// 20 times as long as wide, that an eighth of the knots does not lie across it.
func LeastRoll(axis, centre r3.Vec, region Region, knots int) (*Field, error) {
	f, err := NewField(axis, centre)
	if err != nil {
		return nil, err
	}
	if knots < 4 || knots > 64 {
		return nil, fmt.Errorf("swing: least-roll field: %d knots, expected 4 to 64", knots)
	}
	if region.edge == nil {
		return nil, errors.New("swing: least-roll field: the region is empty, expected one made by Cap, LonLat or Polygon")
	}
	outline := make([]point, len(region.edge))
	for i, d := range region.edge {
		if steady.Atan2(math.Sqrt(steady.Norm2(steady.Cross(d, f.centre))), steady.Dot(d, f.centre)) > farthest {
			return nil, errFar
		}
		outline[i].x, outline[i].y = f.Plane(d)
	}
	if signedArea(outline) <= 0 {
		// Its inside is the side with the point opposite the centre, and so
		// with all within 10 degrees of it; or rounding has left no inside.
		if region.area < math.Pi-farthest {
			return nil, errThin
		}
		return nil, errFar
	}
	if a := enclosed(outline); math.Abs(a-region.area) > float64(0.01*region.area)+1e-9 {
		return nil, errFar // its edge goes past the point opposite the centre on both sides
	}
	s := box(outline, knots)
	if thickness(outline)/s.step < float64(knots)/8 { // cells across it
		return nil, errThin
	}
	if err := s.solveTorsion(outline); err != nil {
		return nil, err
	}
	if s.greatest() > math.Pi {
		return nil, errors.New("swing: least-roll field: the correction passes half a turn, expected a smaller region or a centre nearer its middle")
	}
	f.correction = s
	f.settle()
	return f, nil
}

var errFar = errors.New("swing: least-roll field: the region reaches farther than 170 degrees from the centre, expected one within that")

type point struct{ x, y float64 }

// thickness is how wide a loop is that is long: twice its area over its length.
func thickness(loop []point) float64 {
	length := 0.
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		length += steady.Hypot(q.x-p.x, q.y-p.y)
	}
	return 2 * signedArea(loop) / length
}

// enclosed is the solid angle inside a loop, by Green's theorem: the area form
// of the sphere is the curl of 2/(1+r^2) (-y, x).
func enclosed(loop []point) float64 {
	sum := 0.
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		x, y := (p.x+q.x)/2, (p.y+q.y)/2
		sum += float64(2 / (1 + float64(x*x) + float64(y*y)) * (float64(p.x*q.y) - float64(q.x*p.y)))
	}
	return sum
}

func signedArea(loop []point) float64 {
	sum, o := 0., loop[0] // small loops keep their digits as seen from one of their points
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		sum += float64((p.x-o.x)*(q.y-o.y)) - float64((q.x-o.x)*(p.y-o.y))
	}
	return float64(sum / 2)
}

// What χ costs everywhere, beside the roll inside: so little that the field
// inside changes by less than 0.1 %, and enough to hold the splines that reach
// into the region by a sliver. Ten times the stretching makes a cap's worst roll
// 1.2 % too large, where this has 0.6.
const (
	stretching = 2e-5 // times |dχ|^2
	bending    = 2e-4 // times the squared second derivatives and the cell's area
)

// solveTorsion fills in the coefficients that minimise the integral of |dχ - g|^2 over the inside of the
// outline, g = 2/(1+r^2) (-y, x) being what the centred field rolls back.
func (s *spline) solveTorsion(outline []point) error {
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
	turns := turns(outline)
	for j := range s.ny {
		clear(inside)
		low := s.y + float64(float64(j)*s.step)
		cuts := cuts(turns, low, low+s.step)
		for k, from := range cuts[:len(cuts)-1] {
			height := cuts[k+1] - from
			for _, g := range gauss {
				y := from + float64(g.at*height)
				crossings := crossings(outline, y)
				for k := 0; k+1 < len(crossings); k += 2 {
					s.row(inside, crossings[k], crossings[k+1], y, (y-low)/s.step, g.weight*height/s.step)
				}
			}
		}
		for i := range s.nx {
			system.add(&inside[i], i, j)
			system.add(&everywhere, i, j)
		}
	}
	return system.solve()
}

// strips is the number of strips that a row of cells is integrated in. In a
// cell that the edge cuts, the integral over x has a kink in y where the edge
// enters and leaves. With one strip a row such cells push χ about, and a cap
// rolls 5 % too much at its edge; with 8 it is 0.04 %.
const strips = 8

// cuts are where the strips of the row from low to high begin and end, from
// low to high: also where the outline turns, so that no strip has a part of
// the region that ends inside it.
func cuts(turns []float64, low, high float64) []float64 {
	cuts := make([]float64, 0, strips+1)
	for k := range strips + 1 {
		cuts = append(cuts, low+float64((high-low)*float64(k)/strips))
	}
	for _, y := range turns {
		if y > low && y < high {
			cuts = append(cuts, y)
		}
	}
	slices.Sort(cuts)
	return cuts
}

// turns are the heights at which the outline stops to rise or to fall.
func turns(outline []point) []float64 {
	var ys []float64
	before := outline[len(outline)-1]
	for i, p := range outline {
		after := outline[(i+1)%len(outline)]
		if (p.y > before.y) != (after.y > p.y) || p.y == before.y {
			ys = append(ys, p.y)
		}
		before = p
	}
	return ys
}

// row integrates the roll along the line at y, v of a cell's side up, from one
// crossing to the next.
func (s *spline) row(inside []element, from, to, y, v, weight float64) {
	last := int((to - s.x) / s.step)
	for i := int((from - s.x) / s.step); i <= last; i++ {
		corner := s.x + float64(float64(i)*s.step)
		a, b := max(from, corner), min(to, corner+s.step)
		for _, g := range gauss {
			x := a + float64(g.at*(b-a))
			factor := 2 / (1 + float64(x*x) + float64(y*y))
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
	// The knots are of the geometric mean of the sides, but no more than three
	// times as many lie along the longer one.
	step := max(math.Sqrt(width*height), max(width, height)/3) / float64(knots)
	margin := knots/2 + 3
	// Where a whole number of cells fit, neither rounding nor the sampling of the
	// edge is to add another: turned or mirrored regions have the same cells.
	const slack = 1e-3 // of a cell
	cells := func(length float64) int { return int(math.Ceil(float64(length/step)-slack)) + 2*margin }
	nx, ny := cells(width), cells(height)
	return &spline{
		x: (least.x + most.x - float64(float64(nx)*step)) / 2, y: (least.y + most.y - float64(float64(ny)*step)) / 2,
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
			xs = append(xs, p.x+float64((q.x-p.x)*(y-p.y)/(q.y-p.y)))
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
