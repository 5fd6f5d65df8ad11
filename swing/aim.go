package swing

import (
	"github.com/pronate/pronate/internal/steady"
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
	q, kq := steady.UnitQuat(q)
	a, ka := steady.Unit(axis)
	t, kt := steady.Unit(target)
	switch max(ka, kt) {
	case steady.Zero:
		if kq == steady.Zero {
			q = identity
		}
		if kq == steady.Improper {
			q = quat.NaN()
		}
		return q, false
	case steady.Improper:
		return quat.NaN(), false
	}
	switch kq {
	case steady.Zero:
		s, _ := arc(a, t)
		return s, false
	case steady.Improper:
		return quat.NaN(), false
	}
	s, determined := arc(steady.Rotate(q, a), t)
	return steady.Product(s, q), determined
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
	p, kp := steady.UnitQuat(parent)
	t, kt := steady.Unit(target)
	switch {
	case kp == steady.Improper || kt == steady.Improper:
		return quat.NaN(), false
	case kp == steady.Zero:
		p = identity
	}
	aimed, determined := Aim(local, axis, steady.Rotate(quat.Conj(p), t))
	return aimed, determined && kp == steady.Proper
}
