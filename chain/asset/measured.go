package asset

import (
	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/num/quat"
)

// How the automatic choice compares the strain of a skin before and after a split: a
// pose is worse where the strain grows by more than WorseBy, as a part of it, and a
// difference below StrainSlack does not show.
const (
	WorseBy     = worseBy
	StrainSlack = slack
)

// MeasuredPose is a pose in which the automatic choice measures a limb: one node
// turned from rest.
type MeasuredPose struct {
	Name  string
	Turn  quat.Number // as in [JointTurns]
	Twist bool        // a twist and nothing else; otherwise a direction of the range of motion
}

// MeasuredPoses are the poses that the automatic choice makes for a limb, and the node
// that they turn: twists, and directions of the joint's range of motion. A direction is
// reached by the shortest arc from rest, so that no twist hides in it.
func (l LimbInfo) MeasuredPoses() (node int, poses []MeasuredPose) {
	node, axis, motion := l.Joint, l.TurnAxis, l.Range
	if l.Tip >= 0 {
		node, axis, motion = l.Tip, l.TipAxis, chain.Range{}
	}
	for _, p := range posesWithin(motion, axis) {
		poses = append(poses, MeasuredPose{Name: p.name, Turn: p.turn, Twist: p.plain})
	}
	return node, poses
}
