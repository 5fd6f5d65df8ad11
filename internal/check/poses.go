package check

import (
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
)

// posesClip is the clip that holds the poses, one a second.
const posesClip = "poses looked at"

// weighed is the twist that numbers of segments are compared at, in degrees.
const weighed = 90.

// planned is a pose to be put into the character.
type planned struct {
	limb int
	name string
	kind Kind
	node int
	turn quat.Number // of the node, from rest
	time float64
}

// plan lists the poses of all limbs: those by which the automatic choice decides.
func plan(limbs []asset.LimbInfo) (out []planned) {
	for i, l := range limbs {
		node, poses := l.MeasuredPoses()
		for _, p := range poses {
			kind := Corner
			if p.Twist {
				kind = Twist
			}
			out = append(out, planned{limb: i, name: p.Name, kind: kind, node: node, turn: p.Turn, time: float64(len(out) + 1)}) // at 0 is rest
		}
	}
	return out
}

// twisted is a limb with a twist and nothing else, in degrees: about its bone on the
// left and where nothing tells, and the mirror image of that on the right, so that a
// character who is the same on both sides is told the same of both.
func twisted(limb int, l asset.LimbInfo, degrees float64) planned {
	node, axis := l.Joint, l.TurnAxis
	if l.Tip >= 0 {
		node, axis = l.Tip, l.TipAxis
	}
	if l.Side < 0 {
		degrees = -degrees
	}
	return planned{limb: limb, kind: Twist, node: node, turn: twist.About(axis, degrees*math.Pi/180)}
}

// clipOf puts the poses into a clip.
func clipOf(f *asset.File, poses []planned) asset.NewClip {
	clip := asset.NewClip{Name: posesClip, Times: []float64{0}, Step: true}
	for slices.ContainsFunc(f.Doc.Animations, func(a *animation) bool { return a.Name == clip.Name }) {
		clip.Name += " again"
	}
	joints := map[int]int{} // by node
	for _, p := range poses {
		clip.Times = append(clip.Times, p.time)
		if _, ok := joints[p.node]; !ok {
			joints[p.node] = len(clip.Joints)
			turns := make([]quat.Number, len(poses)+1)
			for k := range turns {
				turns[k] = quat.Number{Real: 1}
			}
			clip.Joints = append(clip.Joints, asset.JointTurns{Joint: fmt.Sprintf("#%d", p.node), FromRest: turns})
		}
	}
	for k, p := range poses {
		clip.Joints[joints[p.node]].FromRest[k+1] = p.turn
	}
	return clip
}
