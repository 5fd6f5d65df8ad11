package kernel

import "math"

// MaxTrigError64 bounds the error of a sine or cosine, absolute: 2 sin y cos y
// carries three roundings of numbers below 1 and 1 - 2 sin^2 y four, of 2^-53
// each, over errors of the two polynomials below 2^-53. The worst seen is under half.
const MaxTrigError64 = 6 * 0x1p-53

// sincos64 stores the sines and cosines of |x| <= pi/2, no cosine below 0; all
// three have one length.
//
// They come from the half angle y = x/2 in [-pi/4, pi/4] by sin x = 2 sin y
// cos y and cos x = 1 - 2 sin^2 y, so there is no range reduction and no branch.
// There sin y = y + y z P(z) and cos y = 1 - z/2 + z^2 Q(z), z = y^2, with P and
// Q the Chebyshev fits of degree 5 (mpmath's chebyfit at 60 digits), which leave
// out less than 1e-17 and 5e-19.
func sincos64(sin, cos, x []float64) {
	sin, cos = sin[:len(x)], cos[:len(x)]
	for i, x := range x {
		y := float64(0.5 * x)
		z := float64(y * y)
		s := float64(z*1.5918129294866609e-10) - 2.5051131845003624e-08
		c := float64(z*-1.1382632425521718e-11) + 2.08761462684032e-09
		s = float64(z*s) + 2.755731610255244e-06
		c = float64(z*c) - 2.755731727172979e-07
		s = float64(z*s) - 0.00019841269836758574
		c = float64(z*c) + 2.4801587298765688e-05
		s = float64(z*s) + 0.008333333333330948
		c = float64(z*c) - 0.0013888888888887397
		s = float64(z*s) - 0.16666666666666663
		c = float64(z*c) + 0.041666666666666664
		s = y + float64(y*float64(z*s))
		c = 1 - (float64(0.5*z) - float64(float64(z*z)*c))
		c, s = 1-float64(2*float64(s*s)), float64(2*float64(s*c))
		if c < 0 { // next to pi/2, by rounding alone
			c = 0
		}
		sin[i], cos[i] = s, c
	}
}

// MaxAtanError64 bounds the error of half a twist relative to itself, beyond what
// its arguments bring: half an ulp for each product, quotient, root and sum in
// the tangent, for the polynomial and for its sum, rounded up.
const MaxAtanError64 = 5 * 0x1p-52

// atan64 turns tangents of quarter angles, within tan(pi/8) of 0, into the
// angles, kept within pi/2 where rounding alone leaves it.
//
// atan t = t + t z P(z), z = t^2, with P the Chebyshev fit of degree 10 (mpmath's
// chebyfit at 60 digits), which leaves out less than 3e-18; it is summed in pairs
// (Estrin) so that the steps overlap.
func atan64(x []float64) {
	for i, t := range x {
		z := float64(t * t)
		z2 := float64(z * z)
		z4 := float64(z2 * z2)
		a := float64(z*0.1999999999999552) - 0.3333333333333333
		b := float64(z*0.11111111015256361) - 0.14285714284666542
		c := float64(z*0.07692183190826087) - 0.09090904578123903
		d := float64(z*0.0585814891280221) - 0.06664511447381948
		e := float64(z*0.03923165829558718) - 0.0508544973794026
		low := a + float64(z2*b)
		high := c + float64(z2*d)
		top := e - float64(z2*0.019176887119062246)
		sum := low + float64(z4*(high+float64(z4*top)))
		half := 4 * (t + float64(t*float64(z*sum)))
		if half > math.Pi/2 {
			half = math.Pi / 2
		}
		if half < -math.Pi/2 {
			half = -math.Pi / 2
		}
		x[i] = half
	}
}
