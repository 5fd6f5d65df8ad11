package rest

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// LongAxis returns the unit direction from a joint to the end of its bone, in
// the joint's own frame, and the bone's length. The joint and the end are given
// in the same frame of reference, as a rule the world at rest.
//
// It is an error if the end lies on the joint (a bone without length has no
// axis) or if anything is not finite.
func LongAxis(joint Frame, end r3.Vec) (axis r3.Vec, length float64, err error) {
	d := r3.Sub(end, joint.Position)
	largest := max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z))
	switch {
	case math.IsNaN(largest) || math.IsInf(largest, 0):
		return r3.Vec{}, 0, fmt.Errorf("rest: long axis from joint %v to end %v, expected finite positions", joint.Position, end)
	case largest == 0:
		return r3.Vec{}, 0, fmt.Errorf("rest: the bone's end lies on its joint at %v, expected a bone with a length", end)
	}
	q := joint.Unit()
	if math.IsNaN(q.Real) {
		return r3.Vec{}, 0, fmt.Errorf("rest: long axis of a joint with rotation %v, expected finite numbers", joint.Rotation)
	}
	// Brought to a size near 1 first, so that no square overflows or underflows.
	_, e := math.Frexp(largest)
	d = r3.Vec{X: math.Ldexp(d.X, -e), Y: math.Ldexp(d.Y, -e), Z: math.Ldexp(d.Z, -e)}
	norm := math.Sqrt(float64(d.X*d.X) + float64(d.Y*d.Y) + float64(d.Z*d.Z))
	length = math.Ldexp(norm, e)
	if math.IsInf(length, 0) {
		return r3.Vec{}, 0, fmt.Errorf("rest: the bone from %v to %v is too long for a float64", joint.Position, end)
	}
	axis = joint.Inverse().Direction(r3.Vec{X: d.X / norm, Y: d.Y / norm, Z: d.Z / norm})
	return axis, length, nil
}
