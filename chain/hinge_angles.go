package chain

import (
	"math"

	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// HingeAngles are a rotation from rest as a hinge sees it, in radians: a joint
// coordinate system with the hinge's axis h fixed in the near bone, the long axis
// a fixed in the far bone, and the floating axis f at right angles to both, which
// is a x h at rest:
//
//	R = rot(h, Flexion) rot(f, SideBend) rot(a, Twist)
//
// A hinge has no side-bend and no twist. Each is right-handed about its axis: a
// positive side-bend leans the bone towards h. With h = Z and a = Y, the long axis
// pointing up the body as the ISB has it, they are Grood and Suntay's alpha, beta
// and gamma; a long axis that points down the limb turns the signs of side-bend
// and twist.
//
// Source: Grood and Suntay 1983, J Biomech Eng 105:136-144.
type HingeAngles struct {
	Flexion  float64 // in [-pi, pi]; negative is extension past rest
	SideBend float64 // in [-pi/2, pi/2]
	Twist    float64 // in [-pi, pi]

	// Defined is false where the bone lies along the hinge's axis, a side-bend of
	// a quarter turn: only the sum or the difference of flexion and twist is
	// determined there, and the twist is taken to be 0. It is false too for a zero
	// rotation or a zero Hinge, which give zeros, and for NaN or Inf, which gives NaN.
	Defined bool
}

// MaxHingeError bounds the error in radians of a measured side-bend; that of
// flexion and twist is bounded by MaxHingeError over the cosine of the side-bend. A
// rotation's parts along the hinge's directions are good to 3 eps, their sums' arc
// tangent to 4, and an angle is twice that; the bound is twice as much again. The
// most seen in two million rotations is 6 eps.
const MaxHingeError = 16 * 0x1p-52

// Measure takes a rotation from rest, in the joint's rest frame, of any non-zero
// length, apart. It allocates nothing. Errors: [MaxHingeError].
//
// With P and M half of flexion + twist and of flexion - twist, B half of the
// side-bend and x, y, z the rotation's parts along f, a and h
//
//	(w + x, z + y) = (cos B + sin B) (cos P, sin P)
//	(w - x, z - y) = (cos B - sin B) (cos M, sin M)
//
// so that each angle is an arc tangent.
func (h Hinge) Measure(q quat.Number) HingeAngles {
	isZero := q == quat.Number{} // which Unit takes for the identity
	q = rest.Frame{Rotation: q}.Unit()
	v := r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}
	w, x, y, z := q.Real, r3.Dot(v, h.across), r3.Dot(v, h.bone), r3.Dot(v, h.axis)
	sum, difference := math.Hypot(w+x, z+y), math.Hypot(w-x, z-y)
	switch {
	case !(sum+difference > 0): // NaN
		nan := math.NaN()
		return HingeAngles{Flexion: nan, SideBend: nan, Twist: nan}
	case isZero || h.bone == r3.Vec{}:
		return HingeAngles{}
	}
	out := HingeAngles{SideBend: 2*math.Atan2(sum, difference) - math.Pi/2}
	p, m := math.Atan2(z+y, w+x), math.Atan2(z-y, w-x)
	switch {
	case difference < twist.MinCondition:
		out.Flexion = math.Remainder(2*p, 2*math.Pi)
	case sum < twist.MinCondition:
		out.Flexion = math.Remainder(2*m, 2*math.Pi)
	default:
		out.Flexion, out.Twist = math.Remainder(p+m, 2*math.Pi), math.Remainder(p-m, 2*math.Pi)
		out.Defined = true
	}
	return out
}

// Rotation undoes [Hinge.Measure]: the rotation from rest with these angles, in radians.
func (h Hinge) Rotation(flexion, sideBend, twisted float64) quat.Number {
	return quat.Mul(twist.About(h.axis, flexion), quat.Mul(twist.About(h.across, sideBend), twist.About(h.bone, twisted)))
}
