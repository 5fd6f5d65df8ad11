package check

import (
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// posesClip is the clip that holds the poses, one a second.
const posesClip = "poses looked at"

// twists are the twists that every limb is looked at with, in degrees. The last
// is the one that numbers of segments are weighed by.
var twists = []float64{30, 60, 90}

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
		var seen []r3.Vec
		for _, flexion := range l.Range.Flexion {
			for _, abduction := range l.Range.Abduction {
				to := l.Range.Direction(flexion, abduction)
				if slices.ContainsFunc(seen, func(v r3.Vec) bool { return r3.Norm(r3.Sub(v, to)) < sameDirection }) {
					continue
				}
				seen = append(seen, to)
				// Bent as the limb's field bends it: no twist of its own.
				turn, ok := l.Field.Swing(to)
				if !ok {
					continue
				}
				name := fmt.Sprintf("flexion %s, abduction %s", wholeDegrees(flexion), wholeDegrees(abduction))
				if math.Abs(math.Cos(abduction)) < sameDirection { // straight sideways: flexion says nothing
					name = "abduction " + wholeDegrees(abduction)
				}
				add(planned{limb: i, name: name, where: "at " + name, kind: Corner, node: l.Joint, turn: turn})
			}
		}
	}
	return out
}

// sameDirection is how far directions may be apart that are one: far more than
// rounding makes, far less than anyone sees.
const sameDirection = 1e-9

// twisted is a limb with a twist and nothing else, in degrees.
func twisted(limb int, l asset.LimbInfo, degrees float64) planned {
	node, axis := l.Joint, l.Axis
	if l.Tip >= 0 {
		node, axis = l.Tip, l.TipAxis
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
