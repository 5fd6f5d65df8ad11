package check_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/check"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/fixture/people"
	"github.com/stretchr/testify/require"
)

// A twist of 90 degrees over 1 to 4 spans, linear weights: the minimum radius is
// cos(span/2) and the volume 1 - (2/3) sin^2(span/2) (Kavan 2014, SIGGRAPH course
// on skinning; radius and volume derived). From the mesh, to what its 64 lengths
// leave of linear weights.
func TestTubeBySegments(t *testing.T) {
	found, err := check.Run(tube(t), check.Options{
		Limbs:   []asset.LimbSpec{{Name: "bone", Joint: "bone", End: asset.End{Joint: "shin"}}},
		AsAsked: true, Basis: skin.Hat,
	})
	require.NoError(t, err)
	want := map[int][2]float64{
		2: {.707107, .666667}, 3: {.923880, .902369}, 4: {.965926, .955342}, 5: {.980785, .974627},
		6: {.987688, .983686}, // cos(9°), 1 - (2/3) sin²(9°)
	}
	require.Len(t, found.Tradeoff, 6)
	for _, c := range found.Tradeoff {
		require.Equal(t, 90.0, c.Twist)
		if c.Segments == 1 {
			continue
		}
		require.InDelta(t, want[c.Segments][0], c.Radius, 5e-4, "%d segments", c.Segments)
		require.InDelta(t, want[c.Segments][1], c.Volume, 5e-4, "%d segments", c.Segments)
		require.InDelta(t, want[c.Segments][0], c.Formula, 1e-6)
		// Dual quaternions about one axis lose nothing (Kavan et al. 2008).
		require.InDelta(t, 1, c.DualRadius, 1e-6)
		require.InDelta(t, 1, c.DualVolume, 2e-3) // flat facets between rings that turn
	}
}

// With one joint the whole twist lies between two rings; split, it rises
// evenly along the bone.
func TestTubeAlongTheBone(t *testing.T) {
	found, err := check.Run(tube(t), check.Options{
		Limbs:   []asset.LimbSpec{{Name: "bone", Joint: "bone", End: asset.End{Joint: "shin"}, Segments: 5}},
		AsAsked: true, Basis: skin.Hat,
	})
	require.NoError(t, err)
	last := found.Poses[2]
	require.Equal(t, "twist 90°", last.Name)
	for i, s := range last.After.Sections {
		// Five nodes: a blend of two turns is off by less than 22.5 - 2·11.25
		// degrees' second order, 0.01 rad.
		require.InDelta(t, s.Station*math.Pi/2, s.Turn, 0.02, "%v", s.Station)
		if one := last.Before.Sections[i]; one.Station > 0.05 {
			require.InDelta(t, math.Pi/2, one.Turn, 1e-3)
		}
	}
}

func wren(t *testing.T) *asset.File {
	t.Helper()
	data, err := demo.Wren()
	require.NoError(t, err)
	file, err := asset.Decode("wren.glb", data, nil)
	require.NoError(t, err)
	return file
}

// Wren under 90 degrees of twist, with two segments and more, keeps what the
// mesh-free formula says of a round limb, to 2 %, and all her hinges are clean.
func TestWren(t *testing.T) {
	var steps, all int
	found, err := check.Run(wren(t), check.Options{Progress: func(done, total int) { steps, all = done, total }})
	require.NoError(t, err)
	require.Equal(t, all, steps)
	require.Equal(t, 6, len(found.Limbs)+len(found.NotSplit))
	for _, l := range found.NotSplit {
		require.NotEmpty(t, l.Reason)
	}
	require.Len(t, found.Tradeoff, len(found.Limbs)*6)
	for _, c := range found.Tradeoff {
		if c.Segments > 1 {
			require.InDelta(t, c.Formula, c.Radius, 0.02, "%s, %d segments", c.Limb, c.Segments)
			require.Greater(t, c.DualRadius, 0.98)
		}
	}
	clips := true
	for _, p := range found.Poses {
		require.NotEmpty(t, p.Verdict)
		require.False(t, p.Kind == check.Clip && !clips, "clips come first")
		clips = p.Kind == check.Clip
		require.Equal(t, clips, p.Moment != "")
		if p.Kind == check.Twist {
			require.Equal(t, check.Better, p.Outcome, "%s, %s", p.Limb, p.Name)
			require.Less(t, p.After.Steepest, 0.5*p.Before.Steepest, "%s, %s", p.Limb, p.Name)
		}
	}
	require.Equal(t, 4, found.Clips.Count)
	require.Len(t, found.Hinges, 4)
	for _, h := range found.Hinges {
		require.True(t, h.Clean, h.Joint)
	}
	for _, l := range found.Limbs {
		require.Equal(t, 4, l.Enough, l.Name) // spans of 30 degrees: cos 15 is 0.966
		require.Zero(t, l.From, l.Name)
		require.Greater(t, l.VolumeAtTwist, 0.9)
	}
	require.InDelta(t, 60, found.Limbs[0].ClipsTwist, 1)
	require.Empty(t, found.Remarks)
	_, err = json.Marshal(found)
	require.NoError(t, err)
}

// The corners of a range hide no twist: with the arms out, where rest points straight
// sideways, a split leaves every direction of the range as it was.
func TestCornersHideNoTwist(t *testing.T) {
	if testing.Short() {
		t.Skip("it splits a character many times")
	}
	c, err := people.Person(people.PersonOptions{})
	require.NoError(t, err)
	file, err := asset.Decode(c.Name, c.Data, nil)
	require.NoError(t, err)
	found, err := check.Run(file, check.Options{})
	require.NoError(t, err)
	corners := 0
	for _, p := range found.Poses {
		if p.Kind == check.Corner && p.Limb == "left upper arm" {
			corners++
			require.NotEqual(t, check.Worse, p.Outcome, p.Name)
		}
	}
	require.Greater(t, corners, 10)
	require.Equal(t, "The character has no clips.", found.ClipsVerdict)
}

// Where no limb is split, hinges and folds are reported all the same.
func TestNothingToSplit(t *testing.T) {
	found, err := check.Run(wren(t), check.Options{Limbs: []asset.LimbSpec{}})
	require.NoError(t, err)
	require.Len(t, found.Hinges, 4)
	require.Empty(t, found.Poses)
	require.Equal(t, "No limb is split: the split is the source.", found.ClipsVerdict)
	require.Contains(t, found.Advice[0].Text, "Nothing")
	c, err := people.Robot("robot", people.Dotted)
	require.NoError(t, err)
	robot, err := asset.Decode(c.Name, c.Data, nil)
	require.NoError(t, err)
	found, err = check.Run(robot, check.Options{})
	require.NoError(t, err)
	require.Empty(t, found.Limbs)
	require.Contains(t, strings.Join(found.Warnings, "\n"), "its skin moves as one rigid piece")
	for _, f := range found.Folds {
		require.Equal(t, f.Before, f.After)
	}
}

func TestRunRefuses(t *testing.T) {
	_, err := check.Run(wren(t), check.Options{Limbs: []asset.LimbSpec{{Joint: "tail", End: asset.End{Joint: "tip"}}}})
	require.ErrorContains(t, err, `wren.glb: limb "tail": joint`)
}
