package swing

import (
	"errors"
	"fmt"
	"math"

	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/spatial/r3"
)

// farthest is how far from its centre a region may reach that a field is solved
// for, in radians: in the plane that is a distance of 11, and the cells near the
// origin are coarse already.
const farthest = 170 * math.Pi / 180

type point struct{ x, y float64 }

// problem is a field to be corrected over a region.
type problem struct {
	kind    string // of field, for messages
	f       *Field
	outline []point // of the region in the plane
}

// prepare checks what a field is to be made of.
func prepare(kind string, axis, centre r3.Vec, region Region, knots int) (*problem, error) {
	f, err := NewField(axis, centre)
	if err != nil {
		return nil, err
	}
	p := &problem{kind: kind, f: f}
	if knots < 4 || knots > 64 {
		return nil, p.errorf("%d knots, expected 4 to 64", knots)
	}
	if region.edge == nil {
		return nil, p.errorf("the region is empty, expected one made by Cap, LonLat or Polygon")
	}
	p.outline = make([]point, len(region.edge))
	for i, d := range region.edge {
		if steady.Atan2(math.Sqrt(steady.Norm2(steady.Cross(d, f.centre))), steady.Dot(d, f.centre)) > farthest {
			return nil, p.errorf("%w", errFar)
		}
		p.outline[i].x, p.outline[i].y = f.Plane(d)
	}
	if signedArea(p.outline) <= 0 {
		// Its inside is the side with the point opposite the centre, and so
		// with all within 10 degrees of it; or rounding has left no inside.
		if region.area < math.Pi-farthest {
			return nil, p.errorf("%w", errThin)
		}
		return nil, p.errorf("%w", errFar)
	}
	if a := enclosed(p.outline); math.Abs(a-region.area) > float64(0.01*region.area)+1e-9 {
		return nil, p.errorf("%w", errFar) // its edge goes past the point opposite the centre on both sides
	}
	return p, nil
}

var (
	errFar    = errors.New("the region reaches farther than 170 degrees from the centre, expected one within that")
	errThin   = errors.New("the region is too thin to solve for, expected a wider one")
	errRing   = errors.New("the region is a ring, or nearly closes to one; expected a gap of 40 degrees or more between its ends")
	errTurned = errors.New("the correction passes three quarters of a turn, expected a smaller region or a centre nearer its middle")
)

func (p *problem) errorf(format string, args ...any) error {
	return fmt.Errorf("swing: %s: "+format, append([]any{p.kind}, args...)...)
}

// cells lays knots cells across the region, and margin of them on every side.
func (p *problem) cells(knots, margin int) (*spline, error) {
	s := box(p.outline, knots, margin)
	if thickness(p.outline)/s.step < float64(knots)/8 { // cells across it
		return nil, p.errorf("%w", errThin)
	}
	if isRing(p.outline, s.step) {
		return nil, p.errorf("%w", errRing)
	}
	return s, nil
}

// correct corrects the field as [spline.solveTorsion] says.
func (p *problem) correct(s *spline, g func(*place) (x, y float64), outside func(x, y float64) (gx, gy float64)) (*Field, error) {
	if err := s.solveTorsion(p.outline, g, outside); err != nil {
		return nil, p.errorf("%w", err)
	}
	if !s.isBounded() {
		return nil, p.errorf("%w", errTurned)
	}
	p.f.correction = s
	p.f.settle()
	return p.f, nil
}

// thickness is how wide a loop is that is long: twice its area over its length.
func thickness(loop []point) float64 {
	length := 0.
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		length += steady.Hypot(q.x-p.x, q.y-p.y)
	}
	return 2 * signedArea(loop) / length
}

// enclosed is the solid angle inside a loop.
func enclosed(loop []point) float64 {
	sum := 0.
	for i, p := range loop {
		sum += sector(p, loop[(i+1)%len(loop)])
	}
	return sum
}

// sector is what a side of a loop adds to the solid angle inside, by Green's theorem:
// the area form of the sphere is the curl of 2/(1+r^2) (-y, x).
func sector(p, q point) float64 {
	x, y := (p.x+q.x)/2, (p.y+q.y)/2
	return float64(2 / (1 + float64(x*x) + float64(y*y)) * (float64(p.x*q.y) - float64(q.x*p.y)))
}

func signedArea(loop []point) float64 {
	sum, o := 0., loop[0] // small loops keep their digits as seen from one of their points
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		sum += float64((p.x-o.x)*(q.y-o.y)) - float64((q.x-o.x)*(p.y-o.y))
	}
	return float64(sum / 2)
}

// box lays cells over the outline, and so many on every side.
func box(outline []point, knots, margin int) *spline {
	least, most := outline[0], outline[0]
	for _, p := range outline {
		least = point{min(least.x, p.x), min(least.y, p.y)}
		most = point{max(most.x, p.x), max(most.y, p.y)}
	}
	width, height := most.x-least.x, most.y-least.y
	// The knots are of the geometric mean of the sides, but no more than three
	// times as many lie along the longer one.
	step := max(math.Sqrt(width*height), max(width, height)/3) / float64(knots)
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
