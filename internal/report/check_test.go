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
	clips := 0
	for i, p := range found.Poses {
		if p.Kind == check.Clip {
			found.Poses[i].After.Radius, found.Poses[i].After.Volume = p.Before.Radius+0.009, p.Before.Volume-0.009
			clips++
		}
	}
	require.Equal(t, 4, clips)
	page, err := report.NewCheck("Check", found)
	require.NoError(t, err)
	require.Equal(t, 4, page.Alike)
	require.Len(t, page.Sheets, 1) // twists alone
	html, err := page.HTML()
	require.NoError(t, err)
	require.Contains(t, string(html), "Clips left out, for radius and volume stay within 1 % with or without a split: 4.")
}

// The plots of all limbs have the same scales, and the curves' names lie above them.
func TestBonesOnOneScale(t *testing.T) {
	plots, err := report.PlotBones(findings(t), report.Light)
	require.NoError(t, err)
	require.NotNil(t, plots.Key)
	for column, scale := range [][2]float64{{71, 100}, {0, 90}} { // cos 45 of a forearm's radius is left
		for _, p := range plots.Columns[column] {
			require.InDelta(t, scale[0], p.Y.Min, 0.5)
			require.InDelta(t, scale[1], p.Y.Max, 0.5)
		}
	}
	svg, err := plots.SVG()
	require.NoError(t, err)
	require.Equal(t, 1, strings.Count(string(svg), ">one joint<"))
}
