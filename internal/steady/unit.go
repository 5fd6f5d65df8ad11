package steady

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Squared norms between safeLow and safeHigh neither overflow nor lose bits
// to subnormals, whatever single component they come from.
const (
	safeLow  = 0x1p-900
	safeHigh = 0x1p+900
)

// Kind says what an input is good for.
type Kind int

const (
	Proper   Kind = iota // finite and not zero
	Zero                 // all components zero
	Improper             // NaN or Inf among the components
)

// Unit returns v/|v|, or v as it is where that has no direction. Vectors that are
// equal up to a power of two give the same bits: that is why it always takes the
// root, even near 1.
func Unit(v r3.Vec) (r3.Vec, Kind) {
	vv := Norm2(v)
	if !(vv > safeLow && vv < safeHigh) {
		return unitScaled(v)
	}
	return Over(v, math.Sqrt(vv)), Proper
}

// unitScaled is Unit for lengths whose squares leave the safe range.
func unitScaled(v r3.Vec) (r3.Vec, Kind) {
	e, k := exponent(max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)))
	if k != Proper {
		return v, k
	}
	return Unit(r3.Vec{X: math.Ldexp(v.X, -e), Y: math.Ldexp(v.Y, -e), Z: math.Ldexp(v.Z, -e)})
}

// UnitQuat returns q/|q|, or q as it is where that is no rotation. One of length
// 1 keeps its bits.
func UnitQuat(q quat.Number) (quat.Number, Kind) {
	qq := QuatNorm2(q)
	if !(qq > safeLow && qq < safeHigh) {
		return unitQuatScaled(q)
	}
	if qq == 1 {
		return q, Proper
	}
	n := math.Sqrt(qq)
	return quat.Number{Real: q.Real / n, Imag: q.Imag / n, Jmag: q.Jmag / n, Kmag: q.Kmag / n}, Proper
}

// unitQuatScaled is UnitQuat for lengths whose squares leave the safe range.
func unitQuatScaled(q quat.Number) (quat.Number, Kind) {
	e, k := exponent(max(math.Abs(q.Real), math.Abs(q.Imag), math.Abs(q.Jmag), math.Abs(q.Kmag)))
	if k != Proper {
		return q, k
	}
	return UnitQuat(quat.Number{
		Real: math.Ldexp(q.Real, -e),
		Imag: math.Ldexp(q.Imag, -e),
		Jmag: math.Ldexp(q.Jmag, -e),
		Kmag: math.Ldexp(q.Kmag, -e),
	})
}

// exponent returns e with largest in [2^(e-1), 2^e). Scaling by 2^-e is exact but
// for what is too small beside the largest to count, and unlike a division by
// largest it serves subnormals.
func exponent(largest float64) (int, Kind) {
	switch {
	case largest == 0:
		return 0, Zero
	case largest <= math.MaxFloat64:
		_, e := math.Frexp(largest)
		return e, Proper
	}
	return 0, Improper // NaN fails every comparison
}
