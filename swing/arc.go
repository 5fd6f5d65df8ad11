package swing

import (
	"math"

	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// MinCondition is the cosine of half the arc below which two directions count
// as opposite: there the bound [MaxArcError]/cos reaches a radian, so the axis is
// rounding and no more. It is an angle of 2 MinCondition short of half a turn.
const MinCondition = 12 * 0x1p-52

// MaxArcError bounds the error of [Arc], in radians. The direction that from
// is carried to is within MaxArcError of to, for every determined arc. The
// whole rotation, its roll about to included, is within MaxArcError / c of the
// exact one, where c is the cosine of half the arc, the real part: next to
// opposite directions the inputs themselves do not hold the roll any better.
//
// In units of u = 2^-53. Dividing by its length turns a vector by u and leaves
// its length off by 3.5. Up to a right angle: 1+a·b >= 1 is off by 11 and a×b
// by 3, which turns the rotation by up to 14 in the plane and 3 out of it; the
// last division adds 5 and the two directions 2, 24 together. Past it, h and d
// are differences good to 1, so h·h is good to 5 and d×h to 5, which turns the
// rotation by up to 10 in the plane and 3 out of it, with the same 7 again. The
// tilt of h, 3.5 against a length of at least 24 eps, adds less than a tenth.
// The roll has 2 for the directions over |h| = 2c, twice.
const MaxArcError = 12 * 0x1p-52

// Arc returns the shortest rotation that carries the direction of from to that
// of to, with a real part that is not negative, and whether it is determined.
//
// The lengths of from and to do not matter, but must be finite and not zero.
// Inputs that are equal, or equal up to a power of two, give exactly the
// identity, and exchanging the inputs gives exactly the conjugate. Opposite
// directions, to within 2 [MinCondition] radians, leave the axis open: the
// result is half a turn about the perpendicular of from that [Perpendicular]
// picks, and false. A zero input gives the identity and false, NaN or Inf gives
// NaN and false. The error is at most [MaxArcError].
//
// Source of the half-vector form: Reynolds 2016,
// marc-b-reynolds.github.io/quaternions/2016/08/09/TwoNormToRot.html.
func Arc(from, to r3.Vec) (quat.Number, bool) {
	a, ka := steady.Unit(from)
	b, kb := steady.Unit(to)
	switch max(ka, kb) {
	case steady.Zero:
		return identity, false
	case steady.Improper:
		return quat.NaN(), false
	}
	return arc(a, b)
}

// arc is Arc for unit vectors.
func arc(a, b r3.Vec) (quat.Number, bool) {
	c := steady.Dot(a, b)
	if c >= 0 {
		return unitFrom(1+c, steady.Cross(a, b)), true
	}
	// Past a right angle 1+c cancels. The half vector h = a+b does not: two
	// nearly opposite components subtract exactly. With d = a-b, which is
	// perpendicular to it, a×b = d×h/2 and 1+c = h·h/2. The lengths of a and b
	// differ by a rounding, which tilts h towards d, but the cross product
	// leaves that part of h out and the square of it is nothing next to h·h:
	// the aim stays true where a·h and a×h would lose it.
	h, d := r3.Add(a, b), r3.Sub(a, b)
	hh := steady.Norm2(h)
	if hh < 4*MinCondition*MinCondition {
		p := perpendicular(a)
		return quat.Number{Imag: p.X, Jmag: p.Y, Kmag: p.Z}, false
	}
	return unitFrom(hh, steady.Cross(d, h)), true
}

// unitFrom returns (w + v)/|w + v|; |w + v| is at least 4 MinCondition.
func unitFrom(w float64, v r3.Vec) quat.Number {
	n := math.Sqrt(float64(w*w) + steady.Norm2(v))
	v = steady.Over(v, n)
	return quat.Number{Real: w / n, Imag: v.X, Jmag: v.Y, Kmag: v.Z} // w/n is exactly 1 where v is 0
}

// Perpendicular returns the unit vector v×e/|v×e|, where e is the coordinate
// axis along which v is shortest in magnitude, x before y before z in a tie,
// and whether it is defined. It is the same for v at any power of two times
// its length, and jumps where two components of v are equal in magnitude: no
// choice could be continuous everywhere. Zero gives zero and false, NaN or Inf
// gives NaN and false.
func Perpendicular(v r3.Vec) (r3.Vec, bool) {
	u, k := steady.Unit(v)
	switch k {
	case steady.Zero:
		return r3.Vec{}, false
	case steady.Improper:
		return nan, false
	}
	return perpendicular(u), true
}

// perpendicular is Perpendicular for a unit vector.
func perpendicular(v r3.Vec) r3.Vec {
	x, y, z := math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)
	var p r3.Vec
	switch {
	case x <= y && x <= z:
		p = r3.Vec{Y: v.Z, Z: -v.Y}
	case y <= z:
		p = r3.Vec{X: -v.Z, Z: v.X}
	default:
		p = r3.Vec{X: v.Y, Y: -v.X}
	}
	return steady.Over(p, math.Sqrt(steady.Norm2(p)))
}
