package check

import (
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// posesClip is the clip that holds the poses, one a second.
const posesClip = "poses looked at"

// twists are the twists that every limb is looked at with, in degrees: about its bone
// on the left and where nothing tells, and the mirror image of that on the right, so
// that a character who is the same on both sides is told the same of both. Flesh is not round,
// and the other way may lose more.
var twists = []float64{30, 60, weighed, -weighed}

// weighed is the twist that numbers of segments are weighed by, in degrees.
const weighed = 90.

// planned is a pose to be put into the character.
type planned struct {
	limb  int
	name  string
	where string // within a sentence
	kind  Kind
	node  int
	turn  quat.Number // of the node, from rest
	time  float64
}

// plan lists the poses of all limbs.
func plan(limbs []asset.LimbInfo) []planned {
	var out []planned
	add := func(p planned) {
		p.time = float64(len(out) + 1) // at 0 is rest
		out = append(out, p)
	}
	for i, l := range limbs {
		what := "twist"
		if l.Tip >= 0 {
			what = "twist of the tip"
		}
		for _, degrees := range twists {
			p := twisted(i, l, degrees)
			p.name, p.where = fmt.Sprintf("%s %.0f°", what, degrees), fmt.Sprintf("at a %s of %.0f degrees", what, degrees)
			add(p)
		}
		if l.Range.IsZero() || l.Tip >= 0 {
			continue
		}
		for _, corner := range corners(l) {
			corner.limb = i
			add(corner)
		}
	}
	return out
}

// sameDirection is how far directions may be apart that are one: far more than
// rounding makes, far less than anyone sees.
const sameDirection = 1e-9

// corners are the poses at the edges of a joint's range: bent as goniometry
// measures it, by flexion in the body's middle plane and then by abduction, with
// no rotation of the bone's own. The field bends otherwise, so that a twist is
// left for the limb to share out.
func corners(l asset.LimbInfo) (out []planned) {
	motion := sweep.Motion{Range: l.Range}
	axis := l.TurnAxis
	rest := quat.Conj(motion.Pose(pair(l.Range.Angles(axis))))
	var seen []r3.Vec
	for _, flexion := range withZero(l.Range.Flexion) {
		for _, abduction := range withZero(l.Range.Abduction) {
			to := l.Range.Direction(flexion, abduction)
			isSeen := func(v r3.Vec) bool { return r3.Norm(r3.Sub(v, to)) < sameDirection }
			if flexion == 0 && abduction == 0 || slices.ContainsFunc(seen, isSeen) {
				continue
			}
			seen = append(seen, to)
			name := fmt.Sprintf("flexion %s, abduction %s", wholeDegrees(flexion), wholeDegrees(abduction))
			turn := quat.Mul(motion.Pose(flexion, abduction, 0), rest)
			if math.Abs(math.Cos(abduction)) < sameDirection { // straight sideways: flexion says nothing
				name = "abduction " + wholeDegrees(abduction)
				turn = quat.Mul(motion.Pose(0, abduction, 0), rest)
			}
			out = append(out, planned{name: name, where: "at " + name, kind: Corner, node: l.Joint, turn: turn})
		}
	}
	return out
}

// pair adds no rotation of the bone's own to the angles of its direction.
func pair(flexion, abduction float64) (_, _, rotation float64) { return flexion, abduction, 0 }

// withZero are limits and, where it lies between them, 0: high steps and reaches
// overhead go by there.
func withZero(limits [2]float64) []float64 {
	if limits[0] < 0 && limits[1] > 0 {
		return []float64{limits[0], 0, limits[1]}
	}
	return limits[:]
}

// twisted is a limb with a twist and nothing else, in degrees.
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

// wholeDegrees writes an angle in radians, never as -0.
func wholeDegrees(angle float64) string {
	return fmt.Sprintf("%.0f°", math.Round(angle*180/math.Pi)+0)
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
