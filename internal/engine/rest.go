package engine

import (
	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/num/quat"
)

// FromRest turns world rotations of anchor, joint and tip into what Solve takes; see
// pronate_from_rest. tip may be nil where the limb does not read it, and far is then
// the identity. It allocates nothing but errors, which may be remarks.
func (l *Limb) FromRest(anchor, joint, tip *[4]float64) (near, far [4]float64, err error) {
	switch {
	case anchor == nil:
		return near, far, isNull("anchor")
	case joint == nil:
		return near, far, isNull("joint")
	case !l.hasTip:
		tip = &[4]float64{0, 0, 0, 1}
	case tip == nil:
		return near, far, noTips("tip")
	}
	q, r := l.solver.FromRest(chain.Pose{Anchor: frame(*anchor), Joint: frame(*joint), Tip: frame(*tip)})
	if !l.hasTip {
		r = quat.Number{Real: 1}
	}
	return xyzw(q), xyzw(r), remarkOnRotations(anchor, joint, tip)
}

func remarkOnRotations(rotations ...*[4]float64) error {
	names := [...]string{"anchor", "joint", "tip"}
	for i, q := range rotations {
		if !isFinite(q[:]) {
			return NotFinite.errorf("%s is %v, expected a finite rotation; what comes of it is NaN", names[i], *q)
		}
	}
	for i, q := range rotations {
		if *q == [4]float64{} {
			return Undefined.errorf("%s is a zero quaternion, expected a rotation; it was taken for the identity", names[i])
		}
	}
	return nil
}

func xyzw(q quat.Number) [4]float64 { return [4]float64{q.Imag, q.Jmag, q.Kmag, q.Real} }
