package asset

import (
	"strings"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/qmuntal/gltf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Stance is what a limb needs to know of its character at rest, where whoever
// solves it has joints of their own and no file.
type Stance struct {
	Axis               r3.Vec     // the bone's long axis in the joint's frame, any non-zero length; zero means +Y
	Anchor, Joint, Tip rest.Frame // world rotations; a zero one is the identity. The tip's is read where twist is tip
}

// Solver sets up the limb's solver in a character of which no more is known. A
// range of motion stands along the world's axes, as in a file: the character is
// upright along +Y and faces +Z. Left and right, and what kind of limb it is, are
// told by names alone, and there are no clips to fit a range to. Stretch and crease are not the solver's.
//
// note says why a range of motion, told by name or by the names of joints, was left
// aside; empty where it was not. An error is that of a character's limb.
func (s LimbSpec) Solver(at Stance) (solver *chain.Solver, note string, err error) {
	s = s.withDefaults()
	// A character of two nodes, for what reads one.
	const anchor, joint = 0, 1
	f := &File{Name: "character", Doc: &gltf.Document{Nodes: []*gltf.Node{{}, {}}}, parent: []int{-1, anchor}}
	if field, _, err := s.check(); err != nil {
		return nil, "", s.errorf(f, field, "%s %w", field, err)
	}
	frames := chain.Limb{Axis: at.Axis, AnchorRest: at.Anchor, JointRest: at.Joint, TipRest: at.Tip}
	sound, err := chain.NewSolver(frames)
	if err != nil {
		return nil, "", s.errorf(f, "", "%s", strings.TrimPrefix(err.Error(), "chain: limb: "))
	}
	spec := frames
	spec.Name, spec.Axis, spec.Segments = s.Name, sound.Axis(), s.segments()
	shares := &spec.Shares
	if s.Twist == TwistTip {
		spec.Twist = chain.Tip
		shares = &spec.TipShares
	}
	if s.Shares.Ramp == SharesSmooth {
		spec.Ramp = chain.Smooth
	}
	if s.Shares.List != nil {
		*shares = s.Shares.List
	}
	find := finder{bare: true, file: f, world: []mgl64.Mat4{spec.AnchorRest.Mat4(), spec.JointRest.Mat4()}}
	l := &limb{spec: s, joint: joint, axis: spec.Axis}
	if key, err := find.setField(&spec, l, anchor); err != nil {
		return nil, "", s.errorf(f, key, "%s: %s", key, err)
	}
	if solver, err = chain.NewSolver(spec); err != nil {
		key, why := whyNoField(spec, err)
		return nil, "", s.errorf(f, key, "%s: %s", key, why)
	}
	return solver, l.note, nil
}
