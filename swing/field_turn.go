package swing

import (
	"errors"

	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Turned is the field turned by q, its range with it, but for another axis: the
// identity there. A field of least roll stays one, for what a field rolls does
// not depend on the direction at which it is the identity; a balanced field does
// for the turned axis alone. It shares its table with f, and so costs next to
// nothing.
//
// axis is a direction of any finite non-zero length that is not opposite the
// turned centre, q a rotation of any finite non-zero length.
func (f *Field) Turned(q quat.Number, axis r3.Vec) (*Field, error) {
	if f.axis == (r3.Vec{}) {
		return nil, errEmpty
	}
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

// Mirrored is the field seen in a mirror through the origin with this normal, a unit
// vector: its axis, centre and range are the mirrored ones, its χ of the mirrored
// direction is minus f's, and its table has the same bits, in rows from the
// other side and with the other sign. Like f it is right-handed, and so χ looked up
// in it may differ by what places in the plane are rounded.
func (f *Field) Mirrored(normal r3.Vec) (*Field, error) {
	if f.axis == (r3.Vec{}) {
		return nil, errEmpty
	}
	n, k := steady.Unit(normal)
	if k != steady.Proper {
		return nil, errors.New("swing: field: mirrored by a normal that is no direction")
	}
	seen := func(v r3.Vec) r3.Vec { return steady.Less(v, 2*steady.Dot(v, n), n) }
	out, ok := fieldOf(seen(f.axis), seen(f.centre))
	if !ok {
		return nil, errOpposite
	}
	out.lay(seen(f.x))
	if s := f.correction; s != nil {
		out.correction = s.mirrored()
		out.settle()
	}
	return out, nil
}

// mirrored is minus the spline, with y upside down.
func (s *spline) mirrored() *spline {
	out := *s
	out.y = -(s.y + float64(float64(s.ny)*s.step))
	out.coef = make([]float32, len(s.coef))
	for k, c := range s.coef {
		i, j := k%s.stride(), k/s.stride()
		out.coef[(s.ny+2-j)*s.stride()+i] = 0 - c // and not -0
	}
	return &out
}
