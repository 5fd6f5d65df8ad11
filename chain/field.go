package chain

import (
	"fmt"
	"strings"

	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Field says which field of swings a limb bends by.
type Field int

const (
	// AnyField is what the rest of the specification is good for: Balanced where
	// the joint's range is known and the centre is left to it, Centred for a
	// given centre, Shortest where there is neither, and where there is no balanced
	// field over the range.
	AnyField Field = iota
	// Shortest is the shortest arc. It rolls tan(angle/2) radians a radian of
	// sideways sway at an angle from rest: 1 at a right angle, without bound
	// at half a turn.
	Shortest
	// Centred is the shortest arc by way of the centre, which rolls as much
	// at an angle from the centre.
	Centred
	// LeastRoll rolls least over the range of motion, in the mean square.
	LeastRoll
	// Balanced rolls little over the range of motion and stays close to the
	// shortest arc where that is well defined.
	Balanced
)

var fieldNames = [...]string{"any", "shortest", "centred", "least_roll", "balanced"}

// String is the field's name in files: shortest, centred, least_roll or balanced.
func (f Field) String() string {
	if f < AnyField || f > Balanced {
		return fmt.Sprintf("Field(%d)", int(f))
	}
	return fieldNames[f]
}

// CentreMode says where a swing takes its centre direction from.
type CentreMode int

const (
	Auto  CentreMode = iota // the middle of Limb.Range; the bone's own direction where no range is given
	None                    // the bone's own direction at rest: the shortest arc
	Given                   // Centre.Direction
)

// Centre is the direction a swing goes by way of.
type Centre struct {
	Mode      CentreMode
	Direction r3.Vec // for Given: any non-zero length, in the anchor's frame at rest
}

// farthestRest is the cosine of the angle, 150 degrees, beyond which a bone at
// rest points away from its range's middle: AnyField is then the shortest arc, for
// next to the singular direction a field rolls wildly.
const farthestRest = -0.866

// bending is how a limb bends.
type bending struct {
	field    *swing.Field
	kind     Field
	fellBack error // why AnyField is not the balanced field, where the range asks for that
}

// bendingOf returns the limb's field of swings; offset turns the anchor's frame at
// rest to the joint's.
func (l *Limb) bendingOf(axis r3.Vec, offset quat.Number) (b bending, err error) {
	centre, err := l.centreOf(axis, offset)
	if err != nil {
		return b, err
	}
	if !l.Range.IsZero() {
		if err := l.Range.check(l); err != nil {
			return b, err
		}
	}
	b.kind = l.Field
	switch l.Field {
	case AnyField:
		b.kind = Centred
		if !l.Range.IsZero() && l.Centre.Mode == Auto {
			b.kind = Balanced
			if steady.Dot(axis, centre) < farthestRest {
				b.fellBack = l.errorf("at rest the bone points away from the middle of its range by more than 150 degrees")
			} else if b.field, err = l.solvedField(Balanced, axis, centre, offset); err != nil {
				b.fellBack = l.noField(Balanced, err)
			} else {
				return b, nil
			}
			b.kind = Shortest
		}
	case Shortest:
		if l.Centre.Mode == Given {
			return b, l.errorf("field is shortest, which goes by no centre, and a centre is given")
		}
	case Centred, LeastRoll, Balanced:
		if l.Centre.Mode == None {
			return b, l.errorf("field is %s and centre none, expected a centre or a range", l.Field)
		}
		if l.Range.IsZero() && (l.Field != Centred || l.Centre.Mode == Auto) {
			return b, l.errorf("field is %s, expected a range of motion", l.Field)
		}
		if l.Field != Centred {
			if b.field, err = l.solvedField(l.Field, axis, centre, offset); err != nil {
				err = l.noField(l.Field, err)
			}
			return b, err
		}
	default:
		return b, l.errorf("field is %d, expected AnyField, Shortest, Centred, LeastRoll or Balanced", l.Field)
	}
	if b.kind == Shortest {
		centre = axis
	}
	if b.field, err = swing.NewField(axis, centre); err != nil {
		return b, l.errorf("centre points against the bone, expected a direction less than half a turn from it: its swing would be undefined at rest")
	}
	const rounding = 1e-12 // of a centre that is the axis, carried over from the anchor's frame
	if steady.Norm2(r3.Sub(b.field.Centre(), b.field.Axis())) < rounding*rounding {
		b.kind = Shortest
	}
	return b, nil
}

// noField says that there is no such field over the range.
func (l *Limb) noField(kind Field, err error) error {
	why := strings.TrimPrefix(err.Error(), "swing: ")
	for _, prefix := range []string{"least-roll field: ", "balanced field: ", "field: ", "region: "} {
		why = strings.TrimPrefix(why, prefix)
	}
	f, a := l.Range.Flexion, l.Range.Abduction
	return l.errorf("range: flexion %.4g to %.4g, abduction %.4g to %.4g degrees: no %s field: %s",
		f[0]/degree, f[1]/degree, a[0]/degree, a[1]/degree, kind, why)
}

// centreOf returns the swing's centre direction in the joint's rest frame.
func (l *Limb) centreOf(axis r3.Vec, offset quat.Number) (r3.Vec, error) {
	var inAnchor r3.Vec
	switch l.Centre.Mode {
	case None:
		return axis, nil
	case Auto:
		if l.Range.IsZero() {
			return axis, nil
		}
		if err := l.Range.check(l); err != nil {
			return axis, err
		}
		inAnchor = l.Range.Middle()
	case Given:
		given, err := l.unit("centre", l.Centre.Direction)
		if err != nil {
			return axis, err
		}
		inAnchor = given
	default:
		return axis, l.errorf("centre mode is %d, expected Auto, None or Given", l.Centre.Mode)
	}
	centre, _ := steady.Unit(rotate(offset, inAnchor))
	return centre, nil
}
