package chain

import (
	"github.com/pronate/pronate/internal/kernel"
	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Pose is where the joints around a limb are, in the world. A frame cut from
// an affine matrix comes from [rest.Anchor], which drops its scale.
type Pose struct {
	Anchor rest.Frame // what holds the root end
	Joint  rest.Frame // the joint whose bone is split
	Tip    rest.Frame // the joint at the tip; read only with tip shares
}

// FromRest returns the rotations from rest that [Solver.Solve] takes: the joint's,
// in its own rest frame and relative to the anchor, and the tip's, in the joint's
// frame.
func (s *Solver) FromRest(p Pose) (joint, tip quat.Number) {
	joint = steady.Product(quat.Conj(s.followed(&p)), p.Joint.Unit())
	if s.tip != nil {
		inJoint := steady.Product(quat.Conj(p.Joint.Unit()), p.Tip.Unit())
		tip = steady.Product(inJoint, quat.Conj(s.tipOffset))
	}
	return joint, tip
}

// SolveWorld writes the segments' world frames to dst, which has Segments()
// elements (anything else panics). Segment i stands i/n of the bone's length
// from the joint.
//
// It takes the limb's layers; with the default ones segment i is the joint's
// frame turned by what [Solver.Solve] gives.
func (s *Solver) SolveWorld(dst []rest.Frame, p Pose) Result {
	s.check(len(dst))
	joint, tip := s.FromRest(p)
	base, shift := p.Joint.Unit(), 0.
	if s.layers != nil {
		base = s.orient(&p)
		joint = steady.Product(quat.Conj(base), p.Joint.Unit())
		shift = 1 // base has no twist yet: segments keep k_i of it, not k_i - 1
	}
	var own, far kernel.Twist[float64]
	s.split(&own, &far, joint, tip)
	along := steady.Scale(s.length/float64(len(dst)), rotate(base, s.axis))
	for i := range dst {
		angle := float64(2 * (s.own[i] + shift) * own.Half)
		if s.tip != nil {
			angle += float64(2 * s.tip[i] * far.Half)
		}
		dst[i] = rest.Frame{
			Position: r3.Add(p.Joint.Position, steady.Scale(float64(i), along)),
			Rotation: steady.Product(base, s.about(angle)),
		}
	}
	return result(&own, &far)
}

// about is the rotation by an angle about the long axis.
func (s *Solver) about(angle float64) quat.Number {
	sin, cos := steady.Sincos(angle / 2)
	v := steady.Scale(sin, s.axis)
	return quat.Number{Real: cos, Imag: v.X, Jmag: v.Y, Kmag: v.Z}
}
