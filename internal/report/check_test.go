package report_test

import (
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/check"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/report"
	"github.com/stretchr/testify/require"
)

func findings(t *testing.T) *check.Findings {
	t.Helper()
	data, err := demo.Wren()
	require.NoError(t, err)
	file, err := asset.Decode("wren.glb", data, nil)
	require.NoError(t, err)
	found, err := check.Run(file, check.Options{})
	require.NoError(t, err)
	return found
}

// Clips that look alike either way are not shown, and the page says how many.
func TestClipsThatLookAlike(t *testing.T) {
	found := findings(t)
	for i, p := range found.Poses {
		if p.Kind == check.Clip {
			found.Poses[i].After, found.Poses[i].Outcome = p.Before, check.Same
			found.Poses[i].After.Radius += 0.009
			found.Poses[i].After.Volume -= 0.009
		}
	}
	page, err := report.NewCheck("Check", found)
	require.NoError(t, err)
	require.Equal(t, 4, page.Alike)
	require.Len(t, page.Sheets, 1) // the worst pose, and the best of each limb
	html, err := page.HTML()
	require.NoError(t, err)
	require.Contains(t, string(html), "Clips left out, since source and split look alike in them (strain within 3 %, radius and volume within 1 %): 4.")
}

// The plots of all limbs have the same scales, and the curves' names lie above them.
func TestBonesOnOneScale(t *testing.T) {
	plots, err := report.PlotBones(findings(t), report.Light)
	require.NoError(t, err)
	require.NotNil(t, plots.Key)
	for column, scale := range [][2]float64{{70.7, 100}, {0, 90}} { // Wren's forearm, source, as measured
		for _, p := range plots.Columns[column] {
			require.InDelta(t, scale[0], p.Y.Min, 0.5)
			require.InDelta(t, scale[1], p.Y.Max, 0.5)
		}
	}
	svg, err := plots.SVG()
	require.NoError(t, err)
	require.Equal(t, 1, strings.Count(string(svg), ">source<"))
}

// The pose that the split makes worst comes first, then what gains; where none is worse,
// the one with most strain left.
func TestWorstPoseIsShown(t *testing.T) {
	pose := func(name string, before, after float64, o check.Outcome) check.Pose {
		return check.Pose{Name: name, Before: check.Loss{Strain: before}, After: check.Loss{Strain: after}, Outcome: o}
	}
	f := &check.Findings{Poses: []check.Pose{
		pose("most left", .09, .08, check.Better), pose("worse", .02, .03, check.Worse), pose("worst", .01, .03, check.Worse), pose("unknown", 1, 9, check.Unmeasured),
	}}
	worst, ok := report.WorstPose(f)
	require.True(t, ok)
	require.Equal(t, "worst", worst.Name)
	f.Poses = f.Poses[:1]
	worst, ok = report.WorstPose(f)
	require.True(t, ok)
	require.Equal(t, "most left", worst.Name)
	_, ok = report.WorstPose(&check.Findings{})
	require.False(t, ok)
}
