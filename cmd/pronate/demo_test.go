package main

import (
	"encoding/json"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/report"
	"github.com/stretchr/testify/require"
)

func TestDemo(t *testing.T) {
	skipPictures(t)
	folder := filepath.Join(t.TempDir(), "new", "folder")
	got := pronate(t, "", "demo", "-o", folder)
	require.Equal(t, exitDone, got.code, got.err)
	for _, name := range []string{"wren.glb", "wren-limbs.yaml", "wren-split.glb", "summary.html", "summary.png", "roll.png", "roll.svg"} {
		require.Contains(t, got.out, "written: "+filepath.Join(folder, name))
	}
	limbs, err := os.ReadFile(filepath.Join(folder, "wren-limbs.yaml"))
	require.NoError(t, err)
	parsed, err := asset.ParseLimbs("wren-limbs.yaml", limbs)
	require.NoError(t, err)
	require.Len(t, parsed.Limbs, 6)
	split, err := asset.Open(filepath.Join(folder, "wren-split.glb"))
	require.NoError(t, err)
	require.Len(t, split.Doc.Animations, 4)
	picture, err := os.Open(filepath.Join(folder, "summary.png"))
	require.NoError(t, err)
	defer picture.Close()
	_, err = png.Decode(picture)
	require.NoError(t, err)
}

func TestDemoReportAsJSON(t *testing.T) {
	skipPictures(t)
	folder := t.TempDir()
	got := pronate(t, "", "demo", "-o", folder, "--json")
	require.Equal(t, exitDone, got.code, got.err)
	var made struct {
		Limbs, Clips []map[string]any
		Squeezed     []map[string]any
		Files        []string
	}
	require.NoError(t, json.Unmarshal([]byte(got.out), &made))
	require.Len(t, made.Limbs, 6)
	require.Len(t, made.Clips, 4)
	require.Len(t, made.Squeezed, 4)
	for _, key := range []string{"clip", "time_s", "before_m2", "after_m2", "mean_before_m2", "mean_after_m2"} {
		require.Contains(t, made.Squeezed[0], key)
	}
	require.Len(t, made.Files, 7)
	for _, file := range made.Files {
		require.FileExists(t, file)
	}
}

// What the demo is there to show: twist alone compresses a tenth of the skin that
// it compresses with one joint per bone, and every clip gains something.
func TestDemoShowsAGain(t *testing.T) {
	source, err := asset.Open(wren(t))
	require.NoError(t, err)
	split, _, err := asset.Split(source, asset.Options{})
	require.NoError(t, err)
	before, err := source.Evaluator()
	require.NoError(t, err)
	after, err := split.Evaluator()
	require.NoError(t, err)
	triangles, err := before.Triangles()
	require.NoError(t, err)
	for _, c := range report.Changes(before, after, triangles) {
		require.Less(t, c.After, c.Before, c.Clip)
		if c.Clip == demo.LimberUp {
			require.Less(t, c.MeanAfter, 0.1*c.MeanBefore)
		}
	}
}
