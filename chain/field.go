package chain

import (
	"strings"

	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Field says which field of swings a limb bends by.
type Field int

const (
	// AnyField is what the rest of the specification is good for: LeastRoll where
	// the joint's range is known and the centre is left to it, Centred for a
	// given centre, Shortest where there is neither.
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

// CentreMode says where a swing takes its centre direction from.
type CentreMode int

const (
	Auto  CentreMode = iota // the middle of Limb.Range; the bone's own direction where no range is given
	None                    // the bone's own direction at rest: the plain shortest arc
	Given                   // Centre.Direction
)

// Centre is the direction a swing goes by way of.
type Centre struct {
	Mode      CentreMode
	Direction r3.Vec // for Given: any non-zero length, in the anchor's frame at rest
}

// farthestRest is the cosine of the angle, 150 degrees, beyond which a bone at
// rest points away from its range's middle: AnyField is then the plain one, for
// next to the singular direction a field rolls wildly.
const farthestRest = -0.866

// fieldOf returns the limb's field of swings; offset turns the anchor's frame at
// rest to the joint's.
func (l *Limb) fieldOf(axis r3.Vec, offset quat.Number) (*swing.Field, error) {
	centre, err := l.centreOf(axis, offset)
	if err != nil {
		return nil, err
	}
	if !l.Range.IsZero() {
		if err := l.Range.check(l); err != nil {
			return nil, err
		}
	}
	known := !l.Range.IsZero() && l.Centre.Mode == Auto
	switch l.Field {
	case AnyField:
		if known && steady.Dot(axis, centre) < farthestRest {
			centre = axis
		} else if known {
			if field, err := l.bestField(axis, centre, offset); err == nil {
				return field, nil
			} // a range without area, or of nearly the whole sphere, is good for a centre still
		}
	case Shortest:
		if l.Centre.Mode == Given {
			return nil, l.errorf("field is shortest, which goes by no centre, and a centre is given")
		}
		centre = axis
	case Centred, LeastRoll:
		if l.Centre.Mode == None {
			return nil, l.errorf("field is centred, least_roll or balanced, and centre none; expected a centre or a range")
		}
		if l.Range.IsZero() && (l.Field == LeastRoll || l.Centre.Mode == Auto) {
			return nil, l.errorf("field is centred, least_roll or balanced, expected a range of motion")
		}
		if l.Field == LeastRoll {
			field, err := l.bestField(axis, centre, offset)
			if err != nil {
				return nil, l.errorf("range: %s", strings.TrimPrefix(strings.TrimPrefix(err.Error(), "swing: "), "least-roll field: "))
			}
			return field, nil
		}
	default:
		return nil, l.errorf("field is %d, expected AnyField, Shortest, Centred or LeastRoll", l.Field)
	}
	field, err := swing.NewField(axis, centre)
	if err != nil {
		return nil, l.errorf("centre points against the bone, expected a direction less than half a turn from it: its swing would be undefined at rest")
	}
	return field, nil
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
