package chain

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Hinge is a joint that bends about one axis, as a knee or an elbow does: the
// hinge's axis and the long axis of the bone that it moves, both in the joint's
// rest frame, of length 1 and at right angles. [Hinge.Measure] tells how far a
// rotation is from a turn of the hinge.
//
// [NewHinge], [HingeFromRest], [HingeFromTurns] and [HingeTowards] make it; the
// zero value measures nothing.
type Hinge struct {
	axis, bone r3.Vec
	across     r3.Vec // bone x axis: the floating axis of a joint at rest
}

// HingeMinRestBend is the bend at rest from which two bones tell their hinge's
// axis, 15 degrees. The axis is the normal of the bones' plane: three joints each
// placed to half a percent of a bone's length leave it uncertain by some
// 0.7/sin(bend) degrees, which is 3 at a bend of 15 degrees and 8 at 5.
const HingeMinRestBend = 15 * degree

// hingeMinSlant is the least angle between a hinge's axis and the bone. A turn
// about an axis nearer to the bone twists it more than it bends the joint.
const hingeMinSlant = 45 * degree

// NewHinge makes a hinge of the bone's long axis and a given hinge axis, of any
// non-zero length. Right-handed turns about the axis count as flexion. Only the
// part of the axis at right angles to the bone counts; an axis within 45 degrees
// of the bone is refused.
func NewHinge(bone, axis r3.Vec) (Hinge, error) {
	a, err := hingeUnit("bone", bone)
	if err != nil {
		return Hinge{}, err
	}
	h, err := hingeUnit("axis", axis)
	if err != nil {
		return Hinge{}, err
	}
	if slant := math.Atan2(r3.Norm(r3.Cross(a, h)), math.Abs(r3.Dot(a, h))); slant < hingeMinSlant {
		return Hinge{}, fmt.Errorf("chain: hinge: axis is %.1f degrees from the bone, expected %.0f or more", slant/degree, hingeMinSlant/degree)
	}
	return hingeOf(a, h), nil
}

// hingeOf makes a hinge of unit directions that are not parallel.
func hingeOf(bone, axis r3.Vec) Hinge {
	across := r3.Unit(r3.Cross(bone, axis))
	return Hinge{axis: r3.Unit(r3.Cross(across, bone)), bone: bone, across: across}
}

// HingeFromRest makes a hinge of two bones that are bent at rest: near points
// along the bone above towards the joint, bone along the bone below away from it,
// both in the joint's rest frame, of any non-zero length. The axis is the normal
// of their plane; flexion bends the joint further the way it is bent.
//
// bend is the angle between the bones in radians, 0 for straight ones. Under
// [HingeMinRestBend], or that near to folded flat, their plane is uncertain: that
// is an error, with bend set.
func HingeFromRest(near, bone r3.Vec) (h Hinge, bend float64, err error) {
	u, err := hingeUnit("near bone", near)
	if err != nil {
		return Hinge{}, 0, err
	}
	a, err := hingeUnit("bone", bone)
	if err != nil {
		return Hinge{}, 0, err
	}
	normal := r3.Cross(u, a)
	bend = math.Atan2(r3.Norm(normal), r3.Dot(u, a))
	if most := math.Pi - HingeMinRestBend; bend < HingeMinRestBend || bend > most {
		return Hinge{}, bend, fmt.Errorf("chain: hinge: the bones are bent by %.1f degrees at rest, expected %.0f to %.0f", bend/degree, HingeMinRestBend/degree, most/degree)
	}
	return hingeOf(a, r3.Unit(normal)), bend, nil
}

// HingeTowards makes a hinge whose flexion turns the bone towards a direction in
// the joint's rest frame: what there is to go by where neither rest nor a clip
// tells the axis. A direction within 15 degrees of the bone's line is refused, as
// in [HingeFromRest].
func HingeTowards(bone, direction r3.Vec) (Hinge, error) {
	a, err := hingeUnit("bone", bone)
	if err != nil {
		return Hinge{}, err
	}
	d, err := hingeUnit("direction", direction)
	if err != nil {
		return Hinge{}, err
	}
	axis := r3.Cross(a, d)
	if between := math.Atan2(r3.Norm(axis), math.Abs(r3.Dot(a, d))); between < HingeMinRestBend {
		return Hinge{}, fmt.Errorf("chain: hinge: the direction to bend to is %.1f degrees from the bone's line, expected %.0f or more", between/degree, HingeMinRestBend/degree)
	}
	return hingeOf(a, r3.Unit(axis)), nil
}

// Axis is the unit hinge axis.
func (h Hinge) Axis() r3.Vec { return h.axis }

// Bone is the unit long axis of the bone.
func (h Hinge) Bone() r3.Vec { return h.bone }

func hingeUnit(field string, v r3.Vec) (r3.Vec, error) {
	u, err := new(Limb).unit(field, v)
	if err != nil {
		return v, fmt.Errorf("chain: hinge: %s is [%g, %g, %g], expected a finite direction of non-zero length", field, v.X, v.Y, v.Z)
	}
	return u, nil
}
