package swing

import "math"

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

// at evaluates the spline.
func (s *spline) at(x, y float64) float64 {
	u, v := (x-s.x)/s.step, (y-s.y)/s.step
	if !(u >= 0 && v >= 0 && u < float64(s.nx) && v < float64(s.ny)) { // NaN too
		return 0
	}
	i, j := int(u), int(v)
	var bx, by [4]float64
	cubic(&bx, u-float64(i))
	cubic(&by, v-float64(j))
	stride := s.nx + 3
	sum := 0.
	for k := range 4 {
		c := s.coef[(j+k)*stride+i:]
		c = c[:4]
		row := float64(bx[0]*float64(c[0])) + float64(bx[1]*float64(c[1]))
		row += float64(bx[2]*float64(c[2])) + float64(bx[3]*float64(c[3]))
		sum += float64(by[k] * row)
	}
	return sum
}

// cubic is the four cubic B-splines over a cell, at t in [0, 1].
func cubic(b *[4]float64, t float64) {
	const sixth = 1. / 6
	m := 1 - t
	t2, m2 := float64(t*t), float64(m*m)
	b[0] = float64(sixth * float64(m2*m))
	b[3] = float64(sixth * float64(t2*t))
	b[1] = 2./3 - float64(t2*(1-float64(0.5*t)))
	b[2] = 2./3 - float64(m2*(1-float64(0.5*m)))
}

// cubicSlopes is their first derivatives, and cubicBends their second.
func cubicSlopes(b *[4]float64, t float64) {
	m := 1 - t
	b[0], b[3] = -0.5*m*m, 0.5*t*t
	b[1] = t * (1.5*t - 2)
	b[2] = -m * (1.5*m - 2)
}

func cubicBends(b *[4]float64, t float64) {
	b[0], b[1], b[2], b[3] = 1-t, 3*t-2, 1-3*t, t
}

// greatest is the largest coefficient in magnitude, which bounds the spline.
func (s *spline) greatest() float64 {
	greatest := 0.
	for _, c := range s.coef {
		greatest = max(greatest, math.Abs(float64(c)))
	}
	return greatest
}
