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
	b0, b1, b2, b3 := cubic(u - float64(i))
	c0, c1, c2, c3 := cubic(v - float64(j))
	stride := s.stride()
	first := j*stride + i
	c := s.coef[first : first+3*stride+4]
	r0 := four((*[4]float32)(c), b0, b1, b2, b3)
	r1 := four((*[4]float32)(c[stride:]), b0, b1, b2, b3)
	r2 := four((*[4]float32)(c[2*stride:]), b0, b1, b2, b3)
	r3 := four((*[4]float32)(c[3*stride:]), b0, b1, b2, b3)
	return (float64(c0*r0) + float64(c1*r1)) + (float64(c2*r2) + float64(c3*r3))
}

// four is one row's sum.
func four(c *[4]float32, b0, b1, b2, b3 float64) float64 {
	return (float64(b0*float64(c[0])) + float64(b1*float64(c[1]))) + (float64(b2*float64(c[2])) + float64(b3*float64(c[3])))
}

// cubic is the four cubic B-splines over a cell, at t in [0, 1].
func cubic(t float64) (b0, b1, b2, b3 float64) {
	const sixth = 1. / 6
	m := 1 - t
	t2, m2 := float64(t*t), float64(m*m)
	b0 = float64(sixth * float64(m2*m))
	b3 = float64(sixth * float64(t2*t))
	b1 = 2./3 - float64(t2*(1-float64(0.5*t)))
	b2 = 2./3 - float64(m2*(1-float64(0.5*m)))
	return b0, b1, b2, b3
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
