package kernel

import "math"

// sincos returns the sine and cosine of x for |x| <= pi/2.
//
// They come from the half angle y = x/2 in [-pi/4, pi/4] by sin x = 2 sin y
// cos y and cos x = 1 - 2 sin^2 y, so there is no range reduction and no
// branch. There the Taylor series through y^17 and y^16 leave out less than
// y^19/19! < 9e-20 and y^18/18! < 2e-18, far below the rounding.
func sincos(x float64) (sin, cos float64) {
	y := 0.5 * x
	z := float64(y * y)
	s := float64(z*(1./355687428096000)) - 1./1307674368000
	c := float64(z*(1./20922789888000)) - 1./87178291200
	s = float64(z*s) + 1./6227020800
	c = float64(z*c) + 1./479001600
	s = float64(z*s) - 1./39916800
	c = float64(z*c) - 1./3628800
	s = float64(z*s) + 1./362880
	c = float64(z*c) + 1./40320
	s = float64(z*s) - 1./5040
	c = float64(z*c) - 1./720
	s = float64(z*s) + 1./120
	c = float64(z*c) + 1./24
	s = float64(z*s) - 1./6
	s = y + float64(y*float64(z*s))
	c = 1 - (float64(0.5*z) - float64(float64(z*z)*c))
	return float64(2 * s * c), 1 - float64(2*s*s)
}

// MaxTrigError bounds the error of sincos, absolute: 2 sin y cos y carries
// three roundings of numbers below 1 and 1 - 2 sin^2 y four, of 2^-53 each,
// over errors of the two series below 2^-53. The worst seen is under half.
const MaxTrigError = 6 * 0x1p-53

// atan2 returns the angle of the point (w, p), w >= 0, at the distance n =
// hypot(w, p) > 0 from the origin, in [-pi/2, pi/2].
//
// A quarter of it has the tangent t = r/(1 + sqrt(1 + r^2)), r = p/(n + w),
// which lies within tan(pi/8) of 0: two quotients in place of the branches that
// other reductions take. There atan t = t + t z P(z), z = t^2, with P the
// Chebyshev fit of degree 10 (mpmath's chebyfit at 60 digits), which leaves out
// less than 3e-18; it is summed in pairs (Estrin) so that the steps overlap.
func atan2(p, w, n float64) float64 {
	r := p / (n + w)
	t := r / (1 + math.Sqrt(1+float64(r*r)))
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
	return 4 * (t + float64(t*float64(z*sum)))
}

// MaxAtanError bounds the error of atan2 relative to its result, beyond that of
// n: half an ulp for each of the two quotients, roots and sums in t, for the
// polynomial and for its sum, rounded up.
const MaxAtanError = 5 * 0x1p-52

// wrapHalf brings a half angle into [-pi/2, pi/2] by whole half turns, which
// change the sign of the quaternion and so not the rotation. |half| <= pi, as
// the law's shares in [0, 1] ensure.
func wrapHalf(half float64) float64 {
	switch {
	case half > math.Pi/2:
		return half - math.Pi
	case half < -math.Pi/2:
		return half + math.Pi
	}
	return half
}
