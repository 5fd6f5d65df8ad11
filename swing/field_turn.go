package swing

import (
	"errors"

	"github.com/pronate/pronate/internal/steady"
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
	u, k := steady.UnitQuat(q)
	a, ka := steady.Unit(axis)
	if k != steady.Proper || ka != steady.Proper {
		return nil, errors.New("swing: field: turned by what is no rotation or to an axis that is no direction")
	}
	c, _ := steady.Unit(steady.Rotate(u, f.centre))
	out, ok := fieldOf(a, c)
	if !ok {
		return nil, errOpposite
	}
	out.lay(steady.Rotate(u, f.x))
	if f.correction != nil {
		out.correction = f.correction
		out.settle()
	}
	return out, nil
}

// lay lays the plane's x along a direction.
func (f *Field) lay(x r3.Vec) {
	f.x = across(x, f.centre)
	f.y = steady.Cross(f.centre, f.x)
}
