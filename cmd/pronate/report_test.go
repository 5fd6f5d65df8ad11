package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/stretchr/testify/require"
)

func TestReportTable(t *testing.T) {
	limb := asset.LimbReport{Name: "left thigh", Joint: "thigh_l", End: "shin_l", Field: "best", Range: "hip", TwistMaxDeg: 0.2, WeightMovedMax: 0.013}
	printed := func(limb asset.LimbReport) string {
		var out bytes.Buffer
		printReport(&out, asset.Report{Limbs: []asset.LimbReport{limb}, Excursions: []asset.Excursion{{Limb: "left thigh", BeyondDeg: 12, FlexionDeg: -0.4, AbductionDeg: -10.6}}})
		return out.String()
	}
	got := printed(limb)
	require.Regexp(t, `(?m)^limb .* field +greatest twist +vertices +weight moved$`, got)
	require.Regexp(t, `(?m)^left thigh .* best +– +0 +1\.3 %$`, got)
	require.Regexp(t, `(?m) 0° +-11°$`, got)
	require.NotContains(t, got, "-0")
	require.Contains(t, got, "\nweight moved: how much of a vertex's weight, at most,")
	limb.ClipKeyed = []bool{false, true}
	require.Regexp(t, `(?m)^left thigh .* best +0 degrees +0 +1\.3 %$`, printed(limb))
	limb.WeightMovedMax = 0.0004 // shown as 0.0 %
	require.NotContains(t, printed(limb), "weight moved:")
}

// Loops that were closed are told of by clip, beyond the bake's tolerance.
func TestReportNamesClosedLoops(t *testing.T) {
	r := asset.Report{Limbs: []asset.LimbReport{{Name: "left thigh"}}, Clips: []asset.ClipReport{{Name: "walk", ClosingMaxDeg: 12.34}, {Name: "idle", ClosingMaxDeg: 0.04}, {Name: "wave", ClosingMaxDeg: 0.3}}}
	for tolerance, want := range map[float64]string{
		0.05: "\nloops closed, by taking off over the clip: walk 12.3 degrees, wave 0.3 degrees\n",
		1:    "\nloops closed, by taking off over the clip: walk 12.3 degrees\n",
		20:   "",
	} {
		var out bytes.Buffer
		printSplit(&out, r, tolerance)
		if want == "" {
			require.NotContains(t, out.String(), "loops")
			continue
		}
		require.Contains(t, out.String(), want)
	}
}

func TestFixed(t *testing.T) {
	for _, c := range []struct {
		x        float64
		decimals int
		want     string
	}{{-0.4, 0, "0"}, {-0.04, 1, "0.0"}, {-0.06, 1, "-0.1"}, {-10, 0, "-10"}, {0, 2, "0.00"}, {-100.0, 1, "-100.0"}} {
		require.Equal(t, c.want, fixed(c.x, c.decimals))
	}
}

// A mistake that only the character shows is told at its place in the limb file,
// and an odd limb as a warning that does not stop the work.
func TestSplitTellsThePlace(t *testing.T) {
	in, folder := wren(t), t.TempDir()
	limbs, out := filepath.Join(folder, "limbs.yaml"), filepath.Join(folder, "out.glb")
	write := func(text string) {
		require.NoError(t, os.WriteFile(limbs, []byte(text), 0o644))
	}
	write("version: 1\nlimbs:\n  - joint: thigh\n    end: shin_l\n    name: left thigh\n")
	got := pronate(t, "", "split", in, "--limbs", limbs, "-o", out)
	require.Equal(t, exitFailed, got.code)
	require.Equal(t, "pronate: "+limbs+`:3:12: limb "left thigh": joint: there is no node "thigh", did you mean "thigh_l"?`+"\n", got.err)
	write("version: 1\nlimbs:\n  - joint: thigh_l\n    end: shin_l\n    shares: [1, 0.5, 0]\n")
	got = pronate(t, "", "split", in, "--limbs", limbs, "-o", out)
	require.Equal(t, exitDone, got.code, got.err)
	require.True(t, strings.HasPrefix(got.err, "pronate: warning: "+limbs+`:5:13: limb "thigh_l": shares fall from 1 to 0.5 at segment 2`), got.err)
}
