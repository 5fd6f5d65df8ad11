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

// twists are the twists that every limb is looked at with, in degrees. The last
// is the one that numbers of segments are weighed by.
var twists = []float64{30, 60, 90}

// planned is a pose to be put into the character.
type planned struct {
	limb int
	name string
	kind Kind
	node int
	turn quat.Number // of the node, from rest
	time float64
}

// plan lists the poses of all limbs.
func plan(limbs []asset.LimbInfo) []planned {
	var out []planned
	add := func(p planned) {
		p.time = float64(len(out) + 1) // at 0 is rest
		out = append(out, p)
	}
	for i, l := range limbs {
		node, axis := l.Joint, l.Axis
		what := "twist"
		if l.Tip >= 0 {
			node, axis = l.Tip, l.TipAxis
			what = "twist of the tip"
		}
		for _, degrees := range twists {
			add(planned{limb: i, name: fmt.Sprintf("%s %.0f°", what, degrees), kind: Twist, node: node, turn: twist.About(axis, degrees*math.Pi/180)})
		}
		if l.Range.IsZero() || l.Tip >= 0 {
			continue
		}
		for _, flexion := range l.Range.Flexion {
			for _, abduction := range l.Range.Abduction {
				// Bent as the limb's field bends it: no twist of its own.
				turn, ok := l.Field.Swing(l.Range.Direction(flexion, abduction))
				if !ok {
					continue
				}
				name := fmt.Sprintf("flexion %.0f°, abduction %.0f°", flexion*180/math.Pi, abduction*180/math.Pi)
				add(planned{limb: i, name: name, kind: Range, node: l.Joint, turn: turn})
			}
		}
	}
	return out
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
