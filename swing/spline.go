package swing

import (
	"math"

	"github.com/pronate/pronate/internal/bicubic"
)

// spline is a function of the plane, made of uniform bicubic B-splines: twice
// continuously differentiable, and zero outside its box, which its outer
// coefficients, all zero, see to.
//
// Coefficients are kept as float32: they are the table that is looked up and
// the file that is saved, and their rounding is far below the mesh's error.
type spline struct {
	x, y   float64 // the box's least corner
	step   float64 // side of a cell
	nx, ny int     // cells
	coef   []float32
}

// stride is the number of coefficients in a row.
func (s *spline) stride() int { return s.nx + 3 }

// table is the spline as the kernels evaluate it.
func (s *spline) table() bicubic.Table[float64] {
	return bicubic.Table[float64]{X: s.x, Y: s.y, PerStep: 1 / s.step, NX: int32(s.nx), NY: int32(s.ny), Coef: s.coef}
}

// init hands package internal/kernel what it solves by, which is nobody else's
// business: the spline that χ is, but for a constant. χ is its value at a place of
// the plane less that at the axis.
func init() {
	bicubic.OfField = func(field any) bicubic.Table[float64] {
		f, _ := field.(*Field)
		if f == nil || f.correction == nil {
			return bicubic.Table[float64]{}
		}
		return f.correction.table()
	}
}

// at evaluates the spline.
func (s *spline) at(x, y float64) float64 {
	t := s.table()
	return t.At(x, y)
}

// cubicSlopes is the first derivatives of the four cubic B-splines over a cell,
// at t in [0, 1], and cubicBends their second.
func cubicSlopes(b *[4]float64, t float64) {
	m := 1 - t
	b[0], b[3] = -0.5*m*m, 0.5*t*t
	b[1] = t * (float64(1.5*t) - 2)
	b[2] = -m * (float64(1.5*m) - 2)
}

func cubicBends(b *[4]float64, t float64) {
	b[0], b[1], b[2], b[3] = 1-t, float64(3*t)-2, 1-float64(3*t), t
}

// greatest is the largest coefficient in magnitude, which bounds the spline.
func (s *spline) greatest() float64 {
	greatest := 0.
	for _, c := range s.coef {
		greatest = max(greatest, math.Abs(float64(c)))
	}
	return greatest
}

// mostCorrection bounds the coefficients, and so the spline. χ is the difference of
// two of its values, and package kernel turns half of it back by half a turn at
// most: it must stay within three half turns.
const mostCorrection = 1.5 * math.Pi

// isBounded reports whether the spline is within [mostCorrection]; NaN is not.
func (s *spline) isBounded() bool { return s.greatest() <= mostCorrection }

// isLevel reports whether the outer coefficients are zero, three on each side.
func (s *spline) isLevel() bool {
	stride := s.stride()
	for i, c := range s.coef {
		x, y := i%stride, i/stride
		if (x < 3 || y < 3 || x >= s.nx || y >= s.ny) && c != 0 {
			return false
		}
	}
	return true
}
