package kernel

import "math"

// MaxTrigError32 bounds the error of a sine or cosine, absolute: the sums end in
// three roundings of numbers up to 1.24, of 2^-24 each up to 1 and twice that
// above, over 3e-8 that the polynomials leave out.
const MaxTrigError32 = 4 * 0x1p-24

// sincos32 stores the sines and cosines of |x| <= pi/2, no cosine below 0; all
// three have one length.
//
// sin x = x + x z P(z) and cos x = 1 - z/2 + z^2 Q(z), z = x^2, with P and Q
// the Chebyshev fits of degree 3 (mpmath's chebyfit at 60 digits), which leave
// out less than 2.8e-8 and 3.6e-9.
func sincos32(sin, cos, x []float32) {
	sin, cos = sin[:len(x)], cos[:len(x)]
	for i, x := range x {
		z := float32(x * x)
		s := float32(z*2.6347563917811774e-06) - 0.00019822739488631102
		c := float32(z*-2.6546065805412777e-07) + 2.478608243994947e-05
		s = float32(z*s) + 0.008333242135096939
		c = float32(z*c) - 0.0013888812551246984
		s = float32(z*s) - 0.16666665963821187
		c = float32(z*c) + 0.04166666607830638
		s = x + float32(x*float32(z*s))
		c = 1 - (float32(0.5*z) - float32(float32(z*z)*c))
		if c < 0 { // next to pi/2, by rounding alone
			c = 0
		}
		sin[i], cos[i] = s, c
	}
}

// MaxAtanError32 bounds the error of half a twist relative to itself, beyond what
// its arguments bring: an ulp for the quotient, the polynomial and its sum each.
const MaxAtanError32 = 3 * 0x1p-23

// atan32 turns tangents of half the angles, within 1 of 0, into the angles, kept
// within pi/2 where rounding alone leaves it.
//
// atan r = r + r z P(z), z = r^2, with P the Chebyshev fit of degree 8 (mpmath's
// chebyfit at 60 digits), which leaves out less than 1.6e-8; it is summed in
// pairs (Estrin) so that the steps overlap.
func atan32(x []float32) {
	for i, r := range x {
		z := float32(r * r)
		z2 := float32(z * z)
		z4 := float32(z2 * z2)
		a := float32(z*0.19999739329835576) - 0.3333333173306352
		b := float32(z*0.11033763715433455) - 0.142785687482106
		c := float32(z*0.06250169444749563) - 0.08656880430154521
		d := float32(z*0.013507771427020535) - 0.03587153853898206
		low := a + float32(z2*b)
		high := c + float32(z2*d)
		sum := low + float32(z4*(high-float32(z4*0.002386997316724113)))
		half := 2 * (r + float32(r*float32(z*sum)))
		if half > math.Pi/2 {
			half = math.Pi / 2
		}
		if half < -math.Pi/2 {
			half = -math.Pi / 2
		}
		x[i] = half
	}
}
