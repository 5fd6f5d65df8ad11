package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/stretchr/testify/require"
)

func TestSplitLive(t *testing.T) {
	wren, err := demo.Wren()
	require.NoError(t, err)
	in, out := filepath.Join(t.TempDir(), "wren.glb"), filepath.Join(t.TempDir(), "out.glb")
	require.NoError(t, os.WriteFile(in, wren, 0o600))

	got := pronate(t, "", "split", in, "--as-asked", "--live", "-o", out)
	require.Equal(t, exitDone, got.code, got.err)
	require.Regexp(t, `(?m)^left forearm +written$`, got.out)
	require.Regexp(t, `(?m)^left thigh +none: it bends by a field that is a table`, got.out)
	require.Regexp(t, `(?m)^left thigh +centre: \[[-0-9., ]+\] +[0-9.]+ degrees at most +[0-9.]+ degrees$`, got.out)

	got = pronate(t, "", "split", in, "--live-only", "--nearest", "--json", "-o", out)
	require.Equal(t, exitDone, got.code, got.err)
	var report asset.Report
	require.NoError(t, json.Unmarshal([]byte(got.out), &report))
	require.Len(t, report.Limbs, 6)
	for _, l := range report.Limbs {
		require.True(t, l.Live.Written)
	}
	got = pronate(t, "", "split", in, "--as-asked", "--live", "-o", t.TempDir())
	require.Equal(t, exitDone, got.code, got.err)
	require.Contains(t, got.out, "live constraints for 2 limbs, none for 4 (--json says why)")
	for _, args := range [][]string{{"--nearest"}, {"--live", "--history"}, {"--live-only", "--history"}} {
		got = pronate(t, "", append([]string{"split", in, "-o", filepath.Join(t.TempDir(), "x.glb")}, args...)...)
		require.Equal(t, exitUsage, got.code)
		require.Contains(t, got.err, "expected")
	}
}
