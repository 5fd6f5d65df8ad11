package swing

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Squared norms between safeLow and safeHigh neither overflow nor lose bits
// to subnormals.
const (
	safeLow  = 0x1p-900
	safeHigh = 0x1p+900
)

// kind says what an input is good for.
type kind int

const (
	proper   kind = iota // finite and not zero
	zero                 // all components zero
	improper             // NaN or Inf among the components
)

// unitVec returns v/|v|. Vectors that are equal up to a power of two give the
// same bits: that is why it always takes the root, even near 1.
func unitVec(v r3.Vec) (r3.Vec, kind) {
	vv := norm2(v)
	if !(vv > safeLow && vv < safeHigh) {
		return unitVecScaled(v)
	}
	return over(v, math.Sqrt(vv)), proper
}

// unitVecScaled is unitVec for lengths whose squares leave the safe range.
func unitVecScaled(v r3.Vec) (r3.Vec, kind) {
	e, k := exponent(max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)))
	if k != proper {
		return v, k
	}
	return unitVec(r3.Vec{X: math.Ldexp(v.X, -e), Y: math.Ldexp(v.Y, -e), Z: math.Ldexp(v.Z, -e)})
}

// unitQuat returns q/|q|.
func unitQuat(q quat.Number) (quat.Number, kind) {
	qq := float64(q.Real*q.Real) + float64(q.Imag*q.Imag) + float64(q.Jmag*q.Jmag) + float64(q.Kmag*q.Kmag)
	if !(qq > safeLow && qq < safeHigh) {
		return unitQuatScaled(q)
	}
	if qq == 1 { // the usual case costs nothing and keeps its bits
		return q, proper
	}
	n := math.Sqrt(qq)
	return quat.Number{Real: q.Real / n, Imag: q.Imag / n, Jmag: q.Jmag / n, Kmag: q.Kmag / n}, proper
}

// unitQuatScaled is unitQuat for lengths whose squares leave the safe range.
func unitQuatScaled(q quat.Number) (quat.Number, kind) {
	e, k := exponent(max(math.Abs(q.Real), math.Abs(q.Imag), math.Abs(q.Jmag), math.Abs(q.Kmag)))
	if k != proper {
		return q, k
	}
	return unitQuat(quat.Number{
		Real: math.Ldexp(q.Real, -e),
		Imag: math.Ldexp(q.Imag, -e),
		Jmag: math.Ldexp(q.Jmag, -e),
		Kmag: math.Ldexp(q.Kmag, -e),
	})
}

// exponent returns e with largest in [2^(e-1), 2^e). Scaling by 2^-e is exact,
// and unlike a division by largest it serves subnormals.
func exponent(largest float64) (int, kind) {
	switch {
	case largest == 0:
		return 0, zero
	case largest <= math.MaxFloat64:
		_, e := math.Frexp(largest)
		return e, proper
	}
	return 0, improper // NaN fails every comparison
}

// finite reports whether v has neither NaN nor Inf.
func finite(v r3.Vec) bool { return v.X-v.X == 0 && v.Y-v.Y == 0 && v.Z-v.Z == 0 }

// dot, cross and norm2 forbid fused multiply-add, so that v×v is exactly zero
// and v·w rounds as w·v does, on every architecture.
func dot(v, w r3.Vec) float64 {
	return float64(v.X*w.X) + float64(v.Y*w.Y) + float64(v.Z*w.Z)
}

func cross(v, w r3.Vec) r3.Vec {
	return r3.Vec{
		X: float64(v.Y*w.Z) - float64(v.Z*w.Y),
		Y: float64(v.Z*w.X) - float64(v.X*w.Z),
		Z: float64(v.X*w.Y) - float64(v.Y*w.X),
	}
}

func norm2(v r3.Vec) float64 { return dot(v, v) }

// over returns v/n, by one division; its extra rounding goes into the length,
// not the direction.
func over(v r3.Vec, n float64) r3.Vec {
	f := 1 / n
	return r3.Vec{X: f * v.X, Y: f * v.Y, Z: f * v.Z}
}

// less returns v - f w.
func less(v r3.Vec, f float64, w r3.Vec) r3.Vec {
	return r3.Vec{X: v.X - float64(f*w.X), Y: v.Y - float64(f*w.Y), Z: v.Z - float64(f*w.Z)}
}

// rotate returns q v q* for a unit q.
func rotate(q quat.Number, v r3.Vec) r3.Vec {
	u := r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}
	t := cross(u, v)
	t = r3.Add(t, t)
	return r3.Add(less(v, -q.Real, t), cross(u, t))
}

// product returns a b, without fused multiply-add as well.
func product(a, b quat.Number) quat.Number {
	return quat.Number{
		Real: float64(a.Real*b.Real) - float64(a.Imag*b.Imag) - float64(a.Jmag*b.Jmag) - float64(a.Kmag*b.Kmag),
		Imag: float64(a.Real*b.Imag) + float64(a.Imag*b.Real) + float64(a.Jmag*b.Kmag) - float64(a.Kmag*b.Jmag),
		Jmag: float64(a.Real*b.Jmag) - float64(a.Imag*b.Kmag) + float64(a.Jmag*b.Real) + float64(a.Kmag*b.Imag),
		Kmag: float64(a.Real*b.Kmag) + float64(a.Imag*b.Jmag) - float64(a.Jmag*b.Imag) + float64(a.Kmag*b.Real),
	}
}

var (
	identity = quat.Number{Real: 1}
	nan      = r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}
)
