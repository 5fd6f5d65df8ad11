package rest

import (
	"github.com/pronate/pronate/internal/steady"
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
		Position: r3.Add(steady.Rotate(q, g.Position), f.Position),
		Rotation: steady.Product(q, g.Unit()),
	}
}

// Inverse returns the placement that undoes f.
func (f Frame) Inverse() Frame {
	q := quat.Conj(f.Unit())
	return Frame{Position: steady.Rotate(q, r3.Scale(-1, f.Position)), Rotation: q}
}

// Point takes a point from the frame's coordinates to its parent's.
func (f Frame) Point(p r3.Vec) r3.Vec { return r3.Add(steady.Rotate(f.Unit(), p), f.Position) }

// Direction takes a direction from the frame's coordinates to its parent's:
// turned, not moved, its length kept to 16 eps.
func (f Frame) Direction(d r3.Vec) r3.Vec { return steady.Rotate(f.Unit(), d) }

// unit is q at unit length; zero gives the identity, NaN or Inf gives NaN.
func unit(q quat.Number) quat.Number {
	u, k := steady.UnitQuat(q)
	switch k {
	case steady.Zero:
		return quat.Number{Real: 1}
	case steady.Improper:
		return quat.NaN()
	}
	return u
}
