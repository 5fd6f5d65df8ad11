package main

import (
	"encoding/json"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

type sweepJSON struct {
	Range string  `json:"range"`
	Bound float64 `json:"area_over_perimeter"`
	Units string  `json:"units"`

	Flexion   [2]float64 `json:"flexion_deg"`
	Abduction [2]float64 `json:"abduction_deg"`

	Files  []string `json:"files"`
	Fields map[string]struct {
		None    string     `json:"none"`
		Worst   *float64   `json:"worst"`
		RMS     *float64   `json:"rms"`
		WorstAt [2]float64 `json:"worst_at_deg"`
		Flips   int        `json:"flips"`

		CentreAt  [2]float64 `json:"centre_at_deg"`
		OverBound *float64   `json:"over_bound"`
	} `json:"fields"`
}

func sweepOnce(t *testing.T, stdin string, args ...string) (out sweepJSON) {
	got := pronate(t, stdin, append([]string{"sweep", "--json"}, args...)...)
	require.Equal(t, exitDone, got.code, got.err)
	decoder := json.NewDecoder(strings.NewReader(got.out))
	decoder.DisallowUnknownFields()
	require.NoError(t, decoder.Decode(&out))
	return out
}

// The hip by tan(theta/2) at 120 degrees, and by an independent finite-difference
// solution of Saint-Venant's problem on it (0.72 and 0.33).
func TestSweepHip(t *testing.T) {
	hip := sweepOnce(t, "", "hip")
	require.Equal(t, "hip", hip.Range)
	require.InDelta(t, 0.469, hip.Bound, 0.001)
	require.Len(t, hip.Fields, 4)
	require.InDelta(t, 0.61, *hip.Fields["balanced"].RMS, 0.01)
	require.Equal(t, [2]float64{-30, 120}, hip.Flexion)
	require.Equal(t, [2]float64{-30, 45}, hip.Abduction)
	require.Equal(t, "radians per radian of sway", hip.Units)
	require.Equal(t, [2]float64{0, 0}, hip.Fields["shortest"].CentreAt)
	require.InDelta(t, 45, hip.Fields["centred"].CentreAt[0], 2)
	require.InDelta(t, 1.732, *hip.Fields["shortest"].Worst, 0.001)
	require.Equal(t, [2]float64{120, 0}, hip.Fields["shortest"].WorstAt)
	require.InDelta(t, 0.82, *hip.Fields["centred"].Worst, 0.01)
	require.InDelta(t, 0.72, *hip.Fields["least_roll"].Worst, 0.01)
	require.InDelta(t, 0.33, *hip.Fields["least_roll"].RMS, 0.01)
	for _, f := range hip.Fields {
		require.InDelta(t, *f.Worst/hip.Bound, *f.OverBound, 1e-9)
		require.Zero(t, f.Flips)
	}
}

// Overhead is where the plain field of a hanging arm has no bound and flips.
func TestSweepShoulder(t *testing.T) {
	shoulder := sweepOnce(t, "", "shoulder")
	plain := shoulder.Fields["shortest"]
	require.Nil(t, plain.Worst)
	require.Nil(t, plain.RMS)
	require.Nil(t, plain.OverBound)
	require.Equal(t, [2]float64{180, 0}, plain.WorstAt)
	require.NotZero(t, plain.Flips)
	require.Zero(t, shoulder.Fields["centred"].Flips)
	require.Zero(t, shoulder.Fields["least_roll"].Flips)
	require.Contains(t, pronate(t, "", "sweep", "shoulder").out, "no bound")
}

func TestSweepDrawsMaps(t *testing.T) {
	skipPictures(t)
	folder := filepath.Join(t.TempDir(), "new")
	file := filepath.Join(t.TempDir(), "range.yaml")
	require.NoError(t, os.WriteFile(file, []byte("name: \"Stiff <hip>\\n\"\nflexion_deg: [-10, 30]\nabduction_deg: [-20, 10]\nrest_deg: [5, 0]\n"), 0o644))
	got := pronate(t, "", "sweep", "--range", file, "-o", folder)
	require.Equal(t, exitDone, got.code, got.err)
	require.Contains(t, got.out, "worst roll, degrees per degree of sway")
	require.Contains(t, got.out, `Stiff <hip>\n: flexion -10 to 30, abduction -20 to 10 degrees`)
	for _, field := range []string{"shortest", "centred", "least_roll", "balanced"} {
		require.Contains(t, got.out, "\n"+field)
	}
	svg, err := os.ReadFile(filepath.Join(folder, "stiff-hip-roll.svg"))
	require.NoError(t, err)
	require.Contains(t, string(svg), "extension")
	require.Contains(t, string(svg), "roll, degrees per degree of sway")
	require.NotContains(t, string(svg), "<hip>")
	picture, err := os.Open(filepath.Join(folder, "stiff-hip-roll.png"))
	require.NoError(t, err)
	defer picture.Close()
	_, err = png.Decode(picture)
	require.NoError(t, err)
	require.Len(t, sweepOnce(t, "flexion_deg: [0, 9]\nabduction_deg: [0, 9]\n", "--range", "-", "-o", folder).Files, 2)
}

// Over a range that nearly closes to a ring two fields are not solved for; the
// others are told.
func TestSweepOfARing(t *testing.T) {
	const ring = "flexion_deg: [-170, 170]\nabduction_deg: [-30, 30]\n"
	got := pronate(t, ring, "sweep", "--range", "-")
	require.Equal(t, exitDone, got.code, got.err)
	require.Regexp(t, `(?m)^centred +\d`, got.out)
	require.Regexp(t, `(?m)^least_roll +none$`, got.out)
	require.Regexp(t, `(?m)^balanced: flexion -170 to 170, abduction -30 to 30 degrees: no balanced field: the region is a ring, or nearly closes to one`, got.out)
	fields := sweepOnce(t, ring, "--range", "-").Fields
	require.Contains(t, fields["least_roll"].None, "nearly closes")
	require.Nil(t, fields["least_roll"].RMS)
	require.NotNil(t, fields["centred"].RMS)
}

func TestSweepRefuses(t *testing.T) {
	for _, c := range []struct {
		code  int
		stdin string
		want  string
		args  []string
	}{
		{exitUsage, "", "sweep needs a range: hip, shoulder, wrist or --range FILE", nil},
		{exitUsage, "", `"knee" is no range: expected hip, shoulder, wrist or --range FILE`, []string{"knee"}},
		{exitUsage, "", `sweep takes one range, found "wrist" as well`, []string{"hip", "wrist"}},
		{exitUsage, "", "sweep takes a range's name or --range FILE, found both", []string{"hip", "--range", "x"}},
		{exitFailed, "flexion: 3\n", `standard input:1:1: unknown key "flexion"`, []string{"--range", "-"}},
		{exitFailed, "flexion_deg: [0, 90]\nabduction_deg: [0, 20]\nrest_deg: [0, -5]\n", "standard input:3:11: rest_deg is [0, -5], expected flexion within [0, 90] and abduction within [0, 20]", []string{"--range", "-"}},
		{exitUsage, "", "-o sweep_test.go: is a file, expected a folder", []string{"hip", "-o", "sweep_test.go"}},
		{exitUsage, "", "-o sweep_test.go: is a file, expected a folder", []string{"hip", "-o", "sweep_test.go/maps"}},
		{exitFailed, "", "no such file", []string{"--range", "/nowhere"}},
	} {
		got := pronate(t, c.stdin, append([]string{"sweep"}, c.args...)...)
		require.Equal(t, c.code, got.code, c.args)
		require.Contains(t, got.err, c.want)
		require.Equal(t, 1, strings.Count(got.err, "\n"), got.err)
		require.Empty(t, got.out)
	}
}
