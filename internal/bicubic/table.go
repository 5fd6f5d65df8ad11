// Package bicubic evaluates a function of the plane that is made of uniform
// bicubic B-splines, in either precision, with the same bits on every processor.
package bicubic

// Table is the function. Coefficients are float32 in both precisions: they are
// what is looked up and what is saved.
type Table[F float32 | float64] struct {
	X, Y    F // the box's least corner
	PerStep F // cells in a unit of length
	NX, NY  int32
	Coef    []float32 // (NX + 3)(NY + 3) of them, row by row
}

// OfField gives the table of a *swing.Field, the zero Table where it has none; its
// coefficients must not be changed. Package swing, which stands on this one, sets
// it, so that only packages of this module can ask.
var OfField func(field any) Table[float64]

// Stride is the number of coefficients in a row.
func (t *Table[F]) Stride() int { return int(t.NX) + 3 }

// At is the function at a place; zero outside the box, and for NaN.
func (t *Table[F]) At(x, y F) F {
	u, v := F((x-t.X)*t.PerStep), F((y-t.Y)*t.PerStep)
	if !(u >= 0 && v >= 0 && u < F(t.NX) && v < F(t.NY)) { // NaN too
		return 0
	}
	i, j := int32(u), int32(v)
	b0, b1, b2, b3 := Cubic(u - F(i))
	c0, c1, c2, c3 := Cubic(v - F(j))
	stride := t.Stride()
	first := int(j)*stride + int(i)
	c := t.Coef[first : first+3*stride+4]
	r0 := four((*[4]float32)(c), b0, b1, b2, b3)
	r1 := four((*[4]float32)(c[stride:]), b0, b1, b2, b3)
	r2 := four((*[4]float32)(c[2*stride:]), b0, b1, b2, b3)
	r3 := four((*[4]float32)(c[3*stride:]), b0, b1, b2, b3)
	return (F(c0*r0) + F(c1*r1)) + (F(c2*r2) + F(c3*r3))
}

// four is one row's sum.
func four[F float32 | float64](c *[4]float32, b0, b1, b2, b3 F) F {
	return (F(b0*F(c[0])) + F(b1*F(c[1]))) + (F(b2*F(c[2])) + F(b3*F(c[3])))
}

// Cubic is the four cubic B-splines over a cell, at t in [0, 1].
func Cubic[F float32 | float64](t F) (b0, b1, b2, b3 F) {
	const sixth = 1. / 6
	m := 1 - t
	t2, m2 := F(t*t), F(m*m)
	b0 = F(sixth * F(m2*m))
	b3 = F(sixth * F(t2*t))
	b1 = 2./3 - F(t2*(1-F(0.5*t)))
	b2 = 2./3 - F(m2*(1-F(0.5*m)))
	return b0, b1, b2, b3
}
