//go:build !wasip1

package engine

import (
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
)

const limbFile = `version: 1
limbs:
  - name: left thigh
    joint: thigh_l
    end: shin_l
    segments: 4
    range: hip
    crease: {at: end, most_m: 0.02}
  - joint: forearm_l
    end: hand_l
    twist: tip
    tip: hand_l
    shares: smooth
`

// A limb of a file is that of a specification which says the same. The file's
// directions are the world's, and a left thigh's out is +X.
func TestFromText(t *testing.T) {
	thigh, err := FromText([]byte(limbFile), "left thigh", Spec{Axis: down})
	require.NoError(t, err)
	want, err := New(hip())
	require.NoError(t, err)
	require.InDeltaSlice(t, solved(t, want), solved(t, thigh), 1e-15)

	forearm, err := FromText([]byte(limbFile), "forearm_l", Spec{Axis: left, TipRest: someRest})
	require.NoError(t, err)
	want, err = New(Spec{Axis: left, TipRest: someRest, Twist: 1, Ramp: 1, Segments: 3})
	require.NoError(t, err)
	require.Equal(t, solved(t, want), solved(t, forearm))

	// A limb with a name is found by its joint too.
	byJoint, err := FromText([]byte(limbFile), "thigh_l", Spec{Axis: down})
	require.NoError(t, err)
	require.Equal(t, solved(t, thigh), solved(t, byJoint))

	// In an anchor that lies on its side at rest all of this is turned.
	turned, err := FromText([]byte(limbFile), "left thigh", Spec{Axis: [3]float64{1, 0, 0}, AnchorRest: [4]float64{0, 0, -1, 1}, JointRest: [4]float64{0, 0, -1, 1}})
	require.NoError(t, err)
	want, err = New(Spec{Axis: [3]float64{1, 0, 0}, Segments: 4, Range: RangeHip, Down: [3]float64{1, 0, 0}, Forward: ahead, Out: [3]float64{0, 1, 0}})
	require.NoError(t, err)
	require.InDeltaSlice(t, solved(t, want), solved(t, turned), 1e-14)
}

func TestFromTextErrors(t *testing.T) {
	for want, c := range map[string]struct {
		text, name string
		rest       Spec
	}{
		`the limb file has no limb "tail", expected one of "left thigh", "forearm_l"`: {limbFile, "tail", Spec{}},
		"limb file:1:1: is empty":    {"", "tail", Spec{}},
		"limb file:2:1: unknown key": {"version: 1\nbones: 2", "tail", Spec{}},
		"the limb file ends in a NUL byte, expected its text alone: length is what strlen says": {limbFile + "\x00", "left thigh", Spec{}},
		"joint_rest is [NaN 0 0 0]":                                     {limbFile, "left thigh", Spec{JointRest: [4]float64{nan}}},
		`limb file:3:36: limb "bone": range: is hip, and neither names`: {"version: 1\nlimbs:\n  - {joint: bone, end: tip, range: hip}", "bone", Spec{}},
	} {
		h, err := FromText([]byte(c.text), c.name, c.rest)
		require.ErrorContains(t, err, want)
		require.Equal(t, BadSpec, StatusOfError(err))
		require.Zero(t, h)
	}
}

// A range that does not fit the bone at rest is left out, and the limb is made.
func TestFromTextRangeOut(t *testing.T) {
	h, err := FromText([]byte(limbFile), "left thigh", Spec{})
	require.ErrorContains(t, err, `limb "left thigh": range: at rest the bone points 60 degrees out of a person's range of motion, which is left aside; `)
	require.ErrorContains(t, err, "; its field is shortest")
	require.Equal(t, RangeOut, StatusOfError(err))
	l, err := Lookup(h)
	require.NoError(t, err)
	require.EqualValues(t, chain.Shortest, l.Describe().Field)
	require.Zero(t, l.Describe().HasRange)
	require.NoError(t, Free(h))
}

// Whatever text comes in, a limb comes out that solves, or an error that is fit to
// print.
func FuzzFromText(f *testing.F) {
	f.Add(limbFile, "left thigh")
	f.Add(`{"version":1,"limbs":[{"joint":"a","end":[0,1,0],"shares":[0,0.5,1],"centre":[1,1,0]}]}`, "a")
	f.Fuzz(func(t *testing.T, text, name string) {
		h, err := FromText([]byte(text), name, Spec{})
		requireMade(t, h, err)
	})
}
