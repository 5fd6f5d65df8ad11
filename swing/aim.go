package swing

import (
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Aim returns q turned by the smallest rotation that makes its axis point
// along target: [Arc](q axis, target) * q, normalised, and whether that
// rotation is determined.
//
// q is a rotation into the world, axis a direction in the frame that q turns,
// target a direction in the world (not a point); each of any finite non-zero
// length. The result lies in the half space of q, so -q gives the same bits
// negated and a moving target causes no change of sign. Where q axis points
// away from target the half turn of Arc is used, with false. The axis ends
// within twice [MaxArcError] of target. A zero axis or
// target leaves q as it is, a zero q counts as the identity, both with false.
// NaN or Inf gives NaN and false.
//
// Aim after a follow, not before: the follow would turn the axis away again.
func Aim(q quat.Number, axis, target r3.Vec) (quat.Number, bool) {
	q, kq := unitQuat(q)
	a, ka := unitVec(axis)
	t, kt := unitVec(target)
	switch max(ka, kt) {
	case zero:
		if kq == zero {
			q = identity
		}
		if kq == improper {
			q = quat.NaN()
		}
		return q, false
	case improper:
		return quat.NaN(), false
	}
	switch kq {
	case zero:
		s, _ := arc(a, t)
		return s, false
	case improper:
		return quat.NaN(), false
	}
	s, determined := arc(rotate(q, a), t)
	return product(s, q), determined
}

// AimIn is [Aim] for a joint below a parent: the rotation local to parent that
// makes axis point along target in the world. It returns
// parent* · Arc(parent local axis, target) · parent · local, and the world
// rotation of the joint is parent times that.
//
// parent is a rotation into the world, local one into parent, axis a direction
// in the frame that local turns, target a direction in the world. The special
// cases are those of Aim; at opposite directions the half turn is chosen in
// the parent's frame, so that the local rotation does not depend on where the
// parent faces. A zero parent counts as the identity, with false.
func AimIn(parent, local quat.Number, axis, target r3.Vec) (quat.Number, bool) {
	p, kp := unitQuat(parent)
	t, kt := unitVec(target)
	switch {
	case kp == improper || kt == improper:
		return quat.NaN(), false
	case kp == zero:
		p = identity
	}
	aimed, determined := Aim(local, axis, rotate(quat.Conj(p), t))
	return aimed, determined && kp == proper
}
