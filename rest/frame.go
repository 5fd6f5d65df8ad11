package rest

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Frame is a rigid placement: the frame's origin and orientation in its
// parent's (often the world's) coordinates. Rotation may have any finite
// length and is read at unit length; zero means identity, so that the zero
// Frame is the identity.
type Frame struct {
	Position r3.Vec // metres
	Rotation quat.Number
}

// Unit returns the frame's rotation at unit length, in the sign it was given.
// A zero Rotation gives the identity; NaN or Inf gives NaN.
func (f Frame) Unit() quat.Number { return unit(f.Rotation) }

// Mul composes two placements, g first and then f: parent.Mul(child) is the
// child, given in the parent's frame, seen from outside the parent.
//
// The rotation is unit to 8 eps (eps = 2^-52), the position right to
// 16 eps (|g.Position| + |f.Position|).
func (f Frame) Mul(g Frame) Frame {
	q := f.Unit()
	return Frame{
		Position: r3.Add(rotate(q, g.Position), f.Position),
		Rotation: quat.Mul(q, g.Unit()),
	}
}

// Inverse returns the placement that undoes f.
func (f Frame) Inverse() Frame {
	q := quat.Conj(f.Unit())
	return Frame{Position: rotate(q, r3.Scale(-1, f.Position)), Rotation: q}
}

// Point takes a point from the frame's coordinates to its parent's.
func (f Frame) Point(p r3.Vec) r3.Vec { return r3.Add(rotate(f.Unit(), p), f.Position) }

// Direction takes a direction from the frame's coordinates to its parent's:
// turned, not moved, its length kept to 16 eps.
func (f Frame) Direction(d r3.Vec) r3.Vec { return rotate(f.Unit(), d) }

// rotate is v' = q v q* for a unit q, as v + 2w(u×v) + 2u×(u×v), u being the
// vector part.
func rotate(q quat.Number, v r3.Vec) r3.Vec {
	u := r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}
	t := r3.Scale(2, r3.Cross(u, v))
	return r3.Add(r3.Add(v, r3.Scale(q.Real, t)), r3.Cross(u, t))
}

// Squared norms between these bounds neither overflow nor lose bits to
// underflow, whatever single component they come from.
const (
	safeLow  = 0x1p-900
	safeHigh = 0x1p+900
)

// unit is q at unit length; zero gives the identity, NaN or Inf gives NaN.
func unit(q quat.Number) quat.Number {
	norm2 := squaredNorm(q)
	if norm2 == 1 {
		return q
	}
	if norm2 > safeLow && norm2 < safeHigh {
		return quat.Scale(1/math.Sqrt(norm2), q)
	}
	largest := max(math.Abs(q.Real), math.Abs(q.Imag), math.Abs(q.Jmag), math.Abs(q.Kmag))
	switch {
	case largest == 0:
		return quat.Number{Real: 1}
	case math.IsNaN(largest) || math.IsInf(largest, 0):
		return quat.NaN()
	}
	// A power of two changes no bits of what stays normal, and what does not
	// is too small beside the largest component to count.
	_, e := math.Frexp(largest)
	q = quat.Number{
		Real: math.Ldexp(q.Real, -e), Imag: math.Ldexp(q.Imag, -e),
		Jmag: math.Ldexp(q.Jmag, -e), Kmag: math.Ldexp(q.Kmag, -e),
	}
	return quat.Scale(1/math.Sqrt(squaredNorm(q)), q)
}

func squaredNorm(q quat.Number) float64 {
	return float64(q.Real*q.Real) + float64(q.Imag*q.Imag) + float64(q.Jmag*q.Jmag) + float64(q.Kmag*q.Kmag)
}
