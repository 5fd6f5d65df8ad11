package kernel

import "math"

// sincos stores sines and cosines of |x| <= pi/2.
func sincos[F Real](sin, cos, x []F) {
	if isSingle[F]() {
		sincos32(singles(sin), singles(cos), singles(x))
		return
	}
	sincos64(doubles(sin), doubles(cos), doubles(x))
}

// quarter is what atan takes of the point (w, p), w >= 0, at the distance n =
// hypot(w, p) > 0 from the origin.
//
// p/(n + w) is the tangent of half the point's angle, within 1 of 0. In float64
// a polynomial there would be long; p/(m + sqrt(2 n m)), m = n + w, is the tangent
// of a quarter of it, for (n + w)^2 + p^2 = 2 n (n + w).
func quarter[F Real](p, w, n F) F {
	m := n + w
	if isSingle[F]() {
		return p / m
	}
	return p / (m + sqrt(2*F(n*m)))
}

// atan turns what quarter gives into angles, in [-pi/2, pi/2].
func atan[F Real](x []F) {
	if isSingle[F]() {
		atan32(singles(x))
		return
	}
	atan64(doubles(x))
}

// wrapHalf brings a half angle into [-pi/2, pi/2] by whole half turns, which
// change the sign of the quaternion and so not the rotation. |half| <= pi, as
// the law's shares in [0, 1] ensure.
func wrapHalf[F Real](half F) F {
	switch {
	case half > math.Pi/2:
		return half - math.Pi
	case half < -math.Pi/2:
		return half + math.Pi
	}
	return half
}
