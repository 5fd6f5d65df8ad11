package chain_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// misaligned is a limb whose anchor, joint and tip have nothing to do with one
// another's axes, in its rest pose.
func misaligned(seed uint64) chain.Limb {
	r := random(seed)
	place := func() rest.Frame {
		return rest.Frame{
			Position: r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()},
			Rotation: randomRotation(r),
		}
	}
	return chain.Limb{
		Axis: r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}, Length: 0.4, Segments: 4,
		AnchorRest: place(), JointRest: place(), TipRest: place(), Centre: chain.Centre{Mode: chain.None},
	}
}

func restPose(l chain.Limb) chain.Pose {
	return chain.Pose{Anchor: l.AnchorRest, Joint: l.JointRest, Tip: l.TipRest}
}

func world(t *testing.T, l chain.Limb, p chain.Pose) []rest.Frame {
	t.Helper()
	s := solver(t, l)
	dst := make([]rest.Frame, s.Segments())
	s.SolveWorld(dst, p)
	return dst
}

func TestMisalignedDriverDoesNotMoveTheRestPose(t *testing.T) {
	for seed := range uint64(20) {
		l := misaligned(seed)
		for _, layers := range [][]chain.Layer{nil, {chain.FollowAnchor, chain.AimEnd, chain.AimEnd}, {chain.FollowJoint}} {
			l.Layers = layers
			for _, segment := range world(t, l, restPose(l)) {
				same(t, l.JointRest.Rotation, segment.Rotation, solveTolerance)
			}
		}
	}
}

// Moving the whole character moves its segments with it and changes nothing
// else; in particular turning the torso does not wring the root end.
func TestSegmentsFollowTheTorso(t *testing.T) {
	for seed := range uint64(20) {
		l := misaligned(seed)
		r := random(seed + 100)
		torso := rest.Frame{Position: r3.Vec{X: 1, Y: 2, Z: 3}, Rotation: randomRotation(r)}
		posed := restPose(l)
		posed.Joint.Rotation = quat.Mul(posed.Joint.Rotation, randomRotation(r))
		moved := chain.Pose{Anchor: torso.Mul(posed.Anchor), Joint: torso.Mul(posed.Joint), Tip: torso.Mul(posed.Tip)}
		before, after := world(t, l, posed), world(t, l, moved)
		for i := range before {
			want := torso.Mul(before[i])
			same(t, want.Rotation, after[i].Rotation, 1e-13)
			require.InDelta(t, 0, r3.Norm(r3.Sub(want.Position, after[i].Position)), 1e-13)
		}
	}
}

// Follow first, aim second: every segment lies along the bone, twist or no
// twist. The other way round the follow undoes the aim, and the end of the limb
// flops back to where the torso would hold it.
func TestOrderOfLayers(t *testing.T) {
	l := misaligned(1)
	right, wrong := l, l
	right.Layers = []chain.Layer{chain.FollowAnchor, chain.AimEnd, chain.AimEnd} // not the default, so that layers run
	wrong.Layers = []chain.Layer{chain.AimEnd, chain.FollowAnchor}
	axis := r3.Unit(l.Axis)
	pose := restPose(l)
	across := r3.Unit(r3.Cross(axis, r3.Vec{X: 1}))
	bend := quat.Mul(twist.About(across, 1.2), twist.About(axis, 0.7))
	pose.Joint.Rotation = quat.Mul(pose.Joint.Rotation, bend)
	bone := pose.Joint.Direction(axis)
	for _, segment := range world(t, right, pose) {
		require.InDelta(t, 1, r3.Dot(bone, segment.Direction(axis)), 1e-14)
	}
	for _, segment := range world(t, wrong, pose) {
		require.InDelta(t, math.Cos(1.2), r3.Dot(bone, segment.Direction(axis)), 1e-14)
	}
	plain := world(t, l, pose)
	for i, segment := range world(t, right, pose) {
		same(t, plain[i].Rotation, segment.Rotation, 1e-14)
	}
}

// FollowJoint leaves nothing to ramp: all segments are the joint.
func TestFollowJoint(t *testing.T) {
	l := misaligned(2)
	l.Layers = []chain.Layer{chain.FollowJoint}
	pose := restPose(l)
	pose.Joint.Rotation = randomRotation(random(9))
	for _, segment := range world(t, l, pose) {
		same(t, pose.Joint.Rotation, segment.Rotation, solveTolerance)
	}
}

func TestSegmentsStandAlongTheBone(t *testing.T) {
	l := misaligned(3)
	pose := restPose(l)
	pose.Joint.Rotation = randomRotation(random(10))
	bone := pose.Joint.Direction(r3.Unit(l.Axis))
	for i, segment := range world(t, l, pose) {
		want := r3.Add(pose.Joint.Position, r3.Scale(0.1*float64(i), bone))
		require.InDelta(t, 0, r3.Norm(r3.Sub(want, segment.Position)), 1e-14)
	}
}

// World and joint-local output agree: the joint's frame times the axial
// rotation.
func TestWorldIsJointTimesLocal(t *testing.T) {
	l := misaligned(4)
	l.Twist = chain.Tip
	l.Shares = []float64{0, 0.2, 0.5, 1}
	l.Centre = chain.Centre{Mode: chain.Given, Direction: rotate(quat.Mul(quat.Conj(l.AnchorRest.Rotation), l.JointRest.Rotation), r3.Add(r3.Unit(l.Axis), r3.Vec{X: 0.5}))}
	s := solver(t, l)
	r := random(11)
	pose := chain.Pose{
		Anchor: rest.Frame{Rotation: randomRotation(r)},
		Joint:  rest.Frame{Rotation: randomRotation(r)},
		Tip:    rest.Frame{Rotation: randomRotation(r)},
	}
	frames, local := make([]rest.Frame, 4), make([]quat.Number, 4)
	result := s.SolveWorld(frames, pose)
	joint, tip := s.FromRest(pose)
	require.Equal(t, result, s.Solve(local, joint, tip))
	for i := range local {
		same(t, quat.Mul(pose.Joint.Rotation, local[i]), frames[i].Rotation, 1e-14)
	}
}
