package swing

import (
	"errors"
	"fmt"
	"math"

	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Field is a field of swings: for every direction d, one rotation that carries
// the axis there,
//
//	S(d) = Arc(centre, d) · Arc(axis, centre) · rot(axis, χ(d)),
//
// a function of the pose alone and exactly the identity at the axis. χ is zero
// in the field of shortest arcs, whose centre is the axis itself, and in a centred
// one; [LeastRoll] and [Balanced] tabulate it for a range of directions.
//
// [NewField], LeastRoll, Balanced and [Field.UnmarshalBinary] make a field. It is
// read only: any number of goroutines may use one at a time. The zero value has no
// axis, and none of its swings is determined.
type Field struct {
	axis, centre r3.Vec
	arc          quat.Number // from axis to centre
	x, y         r3.Vec      // of the plane of Plane: with centre a right-handed frame
	correction   *spline     // nil where χ is zero
	rest         float64     // the spline at the axis, where χ is to be zero
}

// NewField returns the field of the axis by way of the centre; with both equal
// it is the field of shortest arcs. Both are directions of any finite
// non-zero length, and not opposite.
func NewField(axis, centre r3.Vec) (*Field, error) {
	a, ka := steady.Unit(axis)
	c, kc := steady.Unit(centre)
	if ka != steady.Proper || kc != steady.Proper {
		return nil, fmt.Errorf("swing: field: axis is %v and centre %v, expected finite directions of non-zero length", axis, centre)
	}
	f, ok := fieldOf(a, c)
	if !ok {
		return nil, errOpposite
	}
	return f, nil
}

// fieldOf is NewField for unit vectors.
func fieldOf(a, c r3.Vec) (*Field, bool) {
	turn, determined := arc(a, c)
	if !determined {
		return nil, false
	}
	f := &Field{axis: a, centre: c, arc: turn}
	// One axis of the plane lies along the turn from axis to centre: seen in a
	// mirror, the plane is the mirror image then.
	normal := r3.Vec{X: turn.Imag, Y: turn.Jmag, Z: turn.Kmag}
	if turn.Real == 1 || steady.Norm2(normal) < minMirror {
		normal = perpendicular(c)
	}
	f.lay(normal)
	return f, true
}

var (
	errOpposite = errors.New("swing: field: centre is opposite the axis, expected another direction")
	errEmpty    = errors.New("swing: field: it is empty, expected one made by NewField, LeastRoll or Balanced")
)

// Axis is the unit direction at which the field is the identity.
func (f *Field) Axis() r3.Vec { return f.axis }

// Centre is the unit direction by way of which swings go.
func (f *Field) Centre() r3.Vec { return f.centre }

// Arc is the shortest rotation from the axis to the centre.
func (f *Field) Arc() quat.Number { return f.arc }

// Frame is the frame of [Field.Plane]: the unit directions of its coordinates,
// right-handed with the centre.
func (f *Field) Frame() (x, y r3.Vec) { return f.x, f.y }

// IsCorrected reports whether χ is anything but zero.
func (f *Field) IsCorrected() bool { return f.correction != nil }

// Plane projects a direction stereographically from the point opposite the
// centre: the centre is the origin, and a direction at the angle θ from it lies
// at the distance tan(θ/2), which grows without bound: the direction opposite
// the centre is at (Inf, Inf). Directions have any finite length but zero; zero
// and what is not finite are at (NaN, NaN).
func (f *Field) Plane(to r3.Vec) (x, y float64) {
	d, k := steady.Unit(to)
	if k != steady.Proper {
		return math.NaN(), math.NaN()
	}
	// tan(θ/2) = sin θ/(1 + cos θ); past a right angle (1 - cos θ)/sin θ,
	// which does not cancel.
	px, py, pz := steady.Dot(d, f.x), steady.Dot(d, f.y), steady.Dot(d, f.centre)
	across := steady.Hypot(px, py)
	switch {
	case pz >= 0:
		return px / (1 + pz), py / (1 + pz)
	case across == 0:
		return math.Inf(1), math.Inf(1)
	}
	scale := (1 - pz) / across
	return px / across * scale, py / across * scale
}

// CorrectionAt is χ in radians at a place of the plane. It is twice
// continuously differentiable, and constant far outside the range that the
// field was made for. NaN gives NaN.
func (f *Field) CorrectionAt(x, y float64) float64 {
	if math.IsNaN(x) || math.IsNaN(y) {
		return math.NaN()
	}
	if f.correction == nil {
		return 0
	}
	return f.correction.at(x, y) - f.rest
}

// Correction is χ(to) in radians; NaN for a direction that is none.
func (f *Field) Correction(to r3.Vec) float64 {
	d, k := steady.Unit(to)
	switch {
	case k != steady.Proper:
		return math.NaN()
	case d == f.axis:
		return 0
	}
	return f.CorrectionAt(f.Plane(d))
}

// Swing returns S(to), with a real part that is not negative, and whether it is
// determined, as [Centred] does.
func (f *Field) Swing(to r3.Vec) (quat.Number, bool) {
	s, determined := Centred(f.axis, f.centre, to)
	if f.correction == nil || !determined {
		return s, determined
	}
	sin, cos := steady.Sincos(f.Correction(to) / 2)
	s = steady.Product(s, quat.Number{Real: cos, Imag: sin * f.axis.X, Jmag: sin * f.axis.Y, Kmag: sin * f.axis.Z})
	if s.Real < 0 {
		s = quat.Scale(-1, s)
	}
	return s, true
}

// settle takes the correction to be zero at the axis.
func (f *Field) settle() { f.rest = f.correction.at(f.Plane(f.axis)) }
