package twist

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Squared norms between safeLow and safeHigh are used as they are. Their upper
// end leaves room for products of two of them, their lower end for the square
// of MinCondition, 2^-98, before anything overflows or becomes subnormal.
const (
	safeLow  = 0x1p-900
	safeHigh = 0x1p+900
)

// safe reports whether a squared norm can be used as it is; it is false for
// 0, NaN and Inf.
func safe(norm2 float64) bool { return norm2 > safeLow && norm2 < safeHigh }

// inverseRoot returns 1/sqrt(norm2). Near 1 the tangent at 1 serves in its
// place: it leaves out 3/8 (norm2-1)², less than 2^-53 within 2^-26, and costs
// neither root nor division. It keeps an exact 1 exact.
func inverseRoot(norm2 float64) float64 {
	if math.Abs(norm2-1) < 0x1p-26 {
		return 1.5 - 0.5*norm2
	}
	return 1 / math.Sqrt(norm2)
}

// quatNorm2 is the squared norm of q, with no fused multiply-add.
func quatNorm2(q quat.Number) float64 {
	return float64(q.Real*q.Real) + float64(q.Imag*q.Imag) + float64(q.Jmag*q.Jmag) + float64(q.Kmag*q.Kmag)
}

// vecNorm2 is the squared norm of v, with no fused multiply-add.
func vecNorm2(v r3.Vec) float64 {
	return float64(v.X*v.X) + float64(v.Y*v.Y) + float64(v.Z*v.Z)
}

// kind is what a slow path found out about an input.
type kind int

const (
	proper   kind = iota // finite and not zero
	zero                 // all components zero
	improper             // NaN or Inf among the components
)

// kindOf sorts an input by its largest magnitude.
func kindOf(largest float64) kind {
	switch {
	case largest == 0:
		return zero
	case largest <= math.MaxFloat64:
		return proper
	}
	return improper // NaN fails every comparison
}

// scaleQuat brings the largest component of q into [1/2, 1) by a power of two,
// which is exact but for components some 2^-1000 of the largest.
func scaleQuat(q quat.Number) (quat.Number, kind) {
	// max, unlike a chain of comparisons, hands NaN on.
	largest := max(math.Abs(q.Real), math.Abs(q.Imag), math.Abs(q.Jmag), math.Abs(q.Kmag))
	k := kindOf(largest)
	if k != proper {
		return q, k
	}
	_, e := math.Frexp(largest) // serves subnormals, whose reciprocal would overflow
	return quat.Number{
		Real: math.Ldexp(q.Real, -e),
		Imag: math.Ldexp(q.Imag, -e),
		Jmag: math.Ldexp(q.Jmag, -e),
		Kmag: math.Ldexp(q.Kmag, -e),
	}, k
}

// scaleVec is scaleQuat for a vector.
func scaleVec(v r3.Vec) (r3.Vec, kind) {
	largest := max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
	k := kindOf(largest)
	if k != proper {
		return v, k
	}
	_, e := math.Frexp(largest)
	return r3.Vec{X: math.Ldexp(v.X, -e), Y: math.Ldexp(v.Y, -e), Z: math.Ldexp(v.Z, -e)}, k
}

// scaleBoth applies scaleQuat and scaleVec; the worse kind wins.
func scaleBoth(q quat.Number, axis r3.Vec) (quat.Number, r3.Vec, kind) {
	q, k := scaleQuat(q)
	axis, l := scaleVec(axis)
	return q, axis, max(k, l)
}

var identity = quat.Number{Real: 1}
