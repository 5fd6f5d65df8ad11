package chain

import (
	"github.com/pronate/pronate/internal/kernel"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Pose is where the joints around a limb are, in the world. A frame cut from
// an affine matrix comes from rest.Anchor, which drops its scale.
type Pose struct {
	Anchor rest.Frame // what holds the root end
	Joint  rest.Frame // the joint whose bone is split
	Tip    rest.Frame // the joint at the tip; read only with tip shares
}

// FromRest returns the rotations from rest that Solve takes: the joint's, in
// its own rest frame and relative to the anchor, and the tip's, in the joint's
// frame.
func (s *Solver) FromRest(p Pose) (joint, tip quat.Number) {
	joint = quat.Mul(quat.Conj(s.followed(&p)), p.Joint.Unit())
	if s.tip != nil {
		inJoint := quat.Mul(quat.Conj(p.Joint.Unit()), p.Tip.Unit())
		tip = quat.Mul(inJoint, quat.Conj(s.tipOffset))
	}
	return joint, tip
}

// SolveWorld writes the segments' world frames to dst, which has Segments()
// elements (anything else panics). Segment i stands i/n of the bone's length
// from the joint.
//
// It takes the limb's layers; with the default ones segment i is the joint's
// frame turned by what Solve gives.
func (s *Solver) SolveWorld(dst []rest.Frame, p Pose) Result {
	s.check(len(dst))
	joint, tip := s.FromRest(p)
	base, shift := p.Joint.Unit(), 0.
	if s.layers != nil {
		base = s.orient(&p)
		joint = quat.Mul(quat.Conj(base), p.Joint.Unit())
		shift = 1 // base has no twist yet: segments keep k_i of it, not k_i - 1
	}
	var own, far kernel.Twist[float64]
	s.split(&own, &far, joint, tip)
	along := r3.Scale(s.length/float64(len(dst)), rotate(base, s.axis))
	for i := range dst {
		angle := 2 * (s.own[i] + shift) * own.Half
		if s.tip != nil {
			angle += 2 * s.tip[i] * far.Half
		}
		dst[i] = rest.Frame{
			Position: r3.Add(p.Joint.Position, r3.Scale(float64(i), along)),
			Rotation: quat.Mul(base, twist.About(s.axis, angle)),
		}
	}
	return result(&own, &far)
}
