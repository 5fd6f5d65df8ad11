package steady

import (
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Product is a b, b applied first.
func Product(a, b quat.Number) quat.Number {
	return quat.Number{
		Real: float64(a.Real*b.Real) - float64(a.Imag*b.Imag) - float64(a.Jmag*b.Jmag) - float64(a.Kmag*b.Kmag),
		Imag: float64(a.Real*b.Imag) + float64(a.Imag*b.Real) + float64(a.Jmag*b.Kmag) - float64(a.Kmag*b.Jmag),
		Jmag: float64(a.Real*b.Jmag) - float64(a.Imag*b.Kmag) + float64(a.Jmag*b.Real) + float64(a.Kmag*b.Imag),
		Kmag: float64(a.Real*b.Kmag) + float64(a.Imag*b.Jmag) - float64(a.Jmag*b.Imag) + float64(a.Kmag*b.Real),
	}
}

// QuatNorm2 is the squared length of q.
func QuatNorm2(q quat.Number) float64 {
	return float64(q.Real*q.Real) + float64(q.Imag*q.Imag) + float64(q.Jmag*q.Jmag) + float64(q.Kmag*q.Kmag)
}

// ScaleQuat is f q.
func ScaleQuat(f float64, q quat.Number) quat.Number {
	return quat.Number{Real: float64(f * q.Real), Imag: float64(f * q.Imag), Jmag: float64(f * q.Jmag), Kmag: float64(f * q.Kmag)}
}

// Rotate is q v q* for a unit q, as v + 2w(u×v) + 2u×(u×v), u being the vector
// part.
func Rotate(q quat.Number, v r3.Vec) r3.Vec {
	u := r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}
	t := Cross(u, v)
	t = r3.Add(t, t)
	return r3.Add(r3.Add(v, Scale(q.Real, t)), Cross(u, t))
}
