package main

import (
	"encoding/json"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/stretchr/testify/require"
)

func TestDemo(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new", "folder")
	got := pronate(t, "", "demo", "-o", folder)
	require.Equal(t, exitDone, got.code, got.err)
	for _, name := range []string{"wren.glb", "wren-limbs.yaml", "wren-split.glb", "summary.html", "summary.png"} {
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

// What the demo is there to show: twist alone squeezes a tenth of the skin that
// it squeezes with one joint a bone, and every clip gains something.
func TestDemoShowsAGain(t *testing.T) {
	made, err := makeDemo()
	require.NoError(t, err)
	require.LessOrEqual(t, made.report.RestErrorMax, 1e-6)
	for _, c := range made.changes {
		require.Less(t, c.After, c.Before, c.Clip)
		if c.Clip == "limber up" {
			require.Less(t, c.MeanAfter, 0.1*c.MeanBefore)
		}
	}
	report, err := json.Marshal(made.report)
	require.NoError(t, err)
	require.Contains(t, string(report), `"rest_error_max"`)
}
