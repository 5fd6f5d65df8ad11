package steady

import "math"

// MaxTrigError bounds the error of a sine or cosine, absolute, for angles within
// mostQuarters: the angle that is left after the quarter turns carries two
// roundings of numbers below 1, the last sum one, of 2^-54 each, and what goes
// into it half as much again, over errors of the polynomials below 2^-56.
const MaxTrigError = 3 * 0x1p-53

// A quarter turn in three parts: products of the first two, of 33 bits each, with
// a number below 2^20 are exact (Cody and Waite 1980, Software Manual for the
// Elementary Functions; from memory). Each is the nearest to what the ones before
// leave of pi/2, by math/big, cut off after 33 bits for the first two.
const (
	quarter1 = 0x1.921fb544p+00
	quarter2 = 0x1.0b4611a6p-34
	quarter3 = 0x1.3198a2e037073p-69

	mostQuarters = 1 << 20
)

// Sincos returns the sine and cosine of x; NaN for NaN and Inf. Beyond a quarter
// of a million turns it adds an error of |x| 2^-54, no more than x's last digit.
//
// The quarter turns come off first and leave y in [-pi/4, pi/4]. There sin y = y +
// y z P(z) and cos y = 1 - z/2 + z^2 Q(z), z = y^2, with P and Q the fits that
// internal/kernel has for half angles (trig64.go).
func Sincos(x float64) (sin, cos float64) {
	k := math.RoundToEven(float64(x * (2 / math.Pi)))
	if !(math.Abs(k) < mostQuarters) {
		x = math.Remainder(x, 2*math.Pi) // exact
		k = math.RoundToEven(float64(x * (2 / math.Pi)))
	}
	y := (x - float64(k*quarter1)) - float64(k*quarter2) - float64(k*quarter3)
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
	if x-x != 0 {
		return math.NaN(), math.NaN()
	}
	switch int(k) & 3 { // two's complement: right for negative turns too
	case 1:
		return c, -s
	case 2:
		return -s, -c
	case 3:
		return -c, s
	}
	return s, c
}

// MaxAtanError bounds the error of an angle, relative to it: 2 eps for the
// distance, half an eps for each sum, product, root and quotient on the way to
// the tangent, for the polynomial and its sum, and for pi and the difference from
// it, rounded up.
const MaxAtanError = 6 * 0x1p-52

// Atan2 returns the angle of the point (x, y) from the x axis, in [-pi, pi]; that
// of the origin is 0. NaN and Inf give NaN.
//
// With n the distance from the origin and m = n + |x|, y/(m + sqrt(2 n m)) is the
// tangent t of a quarter of the angle from the nearer half of the x axis, for
// (n + x)^2 + y^2 = 2 n (n + x). There atan t = t + t z P(z), z = t^2, with P the
// fit that internal/kernel has (trig64.go).
func Atan2(y, x float64) float64 {
	if largest := max(math.Abs(x), math.Abs(y)); !(largest > 0x1p-400 && largest < 0x1p+400) {
		e, k := exponent(largest)
		switch k {
		case Zero:
			return 0
		case Improper:
			return math.NaN()
		}
		x, y = math.Ldexp(x, -e), math.Ldexp(y, -e)
	}
	n := Hypot(x, y)
	m := n + math.Abs(x)
	t := y / (m + math.Sqrt(2*float64(n*m)))
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
	angle := float64(4 * (t + float64(t*float64(z*sum))))
	if x < 0 {
		return math.Copysign(math.Pi, y) - angle
	}
	return angle
}
