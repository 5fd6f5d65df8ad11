package swing

import (
	"errors"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Turned is the field turned by q, its range with it, but for another axis: the
// identity there. What is a best field stays one, for what a field rolls does
// not depend on the direction at which it is the identity. It shares its table
// with f, and so costs next to nothing.
//
// axis is a direction of any finite non-zero length that is not opposite the
// turned centre, q a rotation of any finite non-zero length.
func (f *Field) Turned(q quat.Number, axis r3.Vec) (*Field, error) {
	u, k := unitQuat(q)
	a, ka := unitVec(axis)
	if k != proper || ka != proper {
		return nil, errors.New("swing: field: turned by what is no rotation or to an axis that is no direction")
	}
	c, _ := unitVec(rotate(u, f.centre))
	out, ok := fieldOf(a, c)
	if !ok {
		return nil, errOpposite
	}
	out.lay(rotate(u, f.x))
	if f.correction != nil {
		out.correction = f.correction
		out.settle()
	}
	return out, nil
}

// lay lays the plane's x along a direction.
func (f *Field) lay(x r3.Vec) {
	f.x = across(x, f.centre)
	f.y = cross(f.centre, f.x)
}
