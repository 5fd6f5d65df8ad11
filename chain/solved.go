package chain

import (
	"errors"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// solvedField is the limb's field over its range that is solved for: of least roll or
// balanced. axis, centre and result are in the joint's rest frame, the range is in
// the anchor's and offset turns it there.
func (l *Limb) solvedField(kind Field, axis, centre r3.Vec, offset quat.Number) (*swing.Field, error) {
	turned := l.Range.turned(offset)
	key := solvedKey{kind: kind, flexion: l.Range.Flexion, abduction: l.Range.Abduction, mirrored: l.Range.handedness() < 0}
	if kind == Balanced {
		key.rest = turned.coordinates(axis)
	}
	if l.Centre.Mode == Given {
		key.centre = turned.coordinates(centre)
	}
	field, err := key.field()
	if err != nil {
		return nil, err
	}
	return field.Turned(steady.Product(offset, l.Range.body()), axis)
}

// solvedKey is all that a field over a range hangs on, in coordinates along the
// body's own directions: there left and right are the same problem.
type solvedKey struct {
	kind               Field
	flexion, abduction [2]float64
	rest               r3.Vec // the bone's direction; zero where the field does not hang on it
	centre             r3.Vec // where one is given; zero for the range's middle
	mirrored           bool   // for a body whose Down, Forward and Out are left-handed
}

type solvedResult struct {
	field *swing.Field
	err   error
}

// solved are the fields of the limbs made last, for bodies whose Down is +X, Forward
// +Y and Out +Z, or -Z where they are mirrored. Every thigh of a character has the
// same, turned or mirrored: it is solved for once. A field takes some 10 kB.
var solved = recent[solvedKey, solvedResult]{most: 64}

func (k solvedKey) field() (*swing.Field, error) {
	r := solved.of(k, func() (r solvedResult) {
		r.field, r.err = k.solve()
		return r
	})
	return r.field, r.err
}

func (k solvedKey) solve() (*swing.Field, error) {
	if k.mirrored {
		k.mirrored = false
		field, err := k.field()
		if err != nil {
			return nil, err
		}
		return field.Mirrored(r3.Vec{Z: 1})
	}
	own := Range{Flexion: k.flexion, Abduction: k.abduction, Down: r3.Vec{X: 1}, Forward: r3.Vec{Y: 1}, Out: r3.Vec{Z: 1}}
	region, err := own.Region()
	if err != nil {
		return nil, err
	}
	centre := k.centre
	if centre == (r3.Vec{}) {
		centre = own.Middle()
	}
	if k.kind == Balanced {
		return balanced(k.rest, centre, region)
	}
	return swing.LeastRoll(centre, centre, region, swing.Knots)
}

// balanced is the balanced field. Where the direction opposite to rest lies well inside
// the range, as for an arm that hangs a little backwards, staying close to the
// shortest arcs forces a singular point on the field: then rolling little counts for
// more.
func balanced(rest, centre r3.Vec, region swing.Region) (field *swing.Field, err error) {
	for _, lambda := range []float64{swing.BalanceLambda, swing.BalanceLambda / 3., swing.BalanceLambda / 10.} {
		field, err = swing.Balance{Lambda: lambda, Power: swing.BalancePower}.Field(rest, centre, region, swing.Knots)
		if !errors.Is(err, swing.ErrSingular) {
			break
		}
	}
	return field, err
}

// coordinates are a direction's along Down, Forward and Out.
func (r Range) coordinates(d r3.Vec) r3.Vec {
	return r3.Vec{X: steady.Dot(d, r.Down), Y: steady.Dot(d, r.Forward), Z: steady.Dot(d, r.Out)}
}

// handedness is 1 where Down, Forward and Out are a right-handed frame, or -1.
func (r Range) handedness() float64 {
	if steady.Dot(steady.Cross(r.Down, r.Forward), r.Out) < 0 {
		return -1
	}
	return 1
}

// body is the rotation from the directions X, Y and Z (or -Z) to the body's.
func (r Range) body() quat.Number {
	q, _ := rest.Nearest(mgl64.Mat3FromCols(
		rest.VecToMgl64(r.Down), rest.VecToMgl64(r.Forward), rest.VecToMgl64(r3.Scale(r.handedness(), r.Out)),
	))
	return q
}
