package oracle

import "gonum.org/v1/gonum/num/quat"

// Quat is a Hamilton quaternion w + v.
type Quat struct {
	W Real
	V Vec
}

// FromQuat returns q exactly.
func FromQuat(q quat.Number) Quat {
	return Quat{Float(q.Real), Vec{Float(q.Imag), Float(q.Jmag), Float(q.Kmag)}}
}

// Float64 returns q with each component rounded.
func (q Quat) Float64() quat.Number {
	v := q.V.Float64()
	return quat.Number{Real: q.W.Float64(), Imag: v.X, Jmag: v.Y, Kmag: v.Z}
}

// Mul returns q r, which applies r first.
func (q Quat) Mul(r Quat) Quat {
	return Quat{
		q.W.Mul(r.W).Sub(q.V.Dot(r.V)),
		r.V.Scale(q.W).Add(q.V.Scale(r.W)).Add(q.V.Cross(r.V)),
	}
}

// Conj returns q*.
func (q Quat) Conj() Quat { return Quat{q.W, q.V.Scale(Float(-1))} }

// Norm returns |q|.
func (q Quat) Norm() Real { return q.W.Mul(q.W).Add(q.V.Dot(q.V)).Sqrt() }

// Unit returns q/|q|.
func (q Quat) Unit() Quat {
	n := q.Norm()
	return Quat{q.W.Div(n), Vec{q.V.X.Div(n), q.V.Y.Div(n), q.V.Z.Div(n)}}
}

// Neg returns -q, the same rotation.
func (q Quat) Neg() Quat { return Quat{q.W.Neg(), q.V.Scale(Float(-1))} }

// Rotate returns v turned by q, of any length: q v q* / |q|².
func (q Quat) Rotate(v Vec) Vec {
	u := q.Unit()
	return u.Mul(Quat{Float(0), v}).Mul(u.Conj()).V
}

// Off returns the largest difference of a component between q and r or -r,
// whichever is nearer.
func (q Quat) Off(r Quat) Real {
	far := func(r Quat) Real {
		most := q.W.Sub(r.W).Abs()
		d := q.V.Sub(r.V)
		for _, c := range []Real{d.X.Abs(), d.Y.Abs(), d.Z.Abs()} {
			if c.Cmp(most) > 0 {
				most = c
			}
		}
		return most
	}
	a, b := far(r), far(r.Neg())
	if a.Cmp(b) < 0 {
		return a
	}
	return b
}
