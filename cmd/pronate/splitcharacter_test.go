package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
)

// studio is a folder with a character's body and, beside it, files of its clips.
func studio(t *testing.T) (body, clips string) {
	t.Helper()
	folder := t.TempDir()
	put := func(name string, o fixture.Options) string {
		built, err := fixture.Build(o)
		require.NoError(t, err)
		path := filepath.Join(folder, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, built.Data, 0o644))
		return path
	}
	body = put("body.glb", fixture.Options{})
	put("clips/arms.glb", fixture.Options{Clips: []string{"twist upper arm", "turn hand"}})
	put("clips/deep/legs.glb", fixture.Options{Clips: []string{"twist thigh", "swing"}})
	return body, filepath.Join(folder, "clips")
}

// One choice for a character: every file of it gets the same new joints, the resolved
// limb file stands beside the outputs, and splitting by it later gives the same bytes.
func TestSplitCharacter(t *testing.T) {
	body, clips := studio(t)
	out := t.TempDir()
	got := pronate(t, "", "split", "--character", body, clips, "-o", out)
	require.Equal(t, exitDone, got.code, got.err)
	require.Contains(t, got.out, "3 split, 0 up to date, 0 failed")
	require.Contains(t, got.out, "strain of the skin, source and split")
	resolved := filepath.Join(out, resolvedName)
	text, err := os.ReadFile(resolved)
	require.NoError(t, err)
	limbs, err := asset.ParseLimbs(resolved, text)
	require.NoError(t, err)
	require.True(t, limbs.Resolved)
	require.NotEmpty(t, limbs.Limbs)
	joints := func(path string) (names []string) {
		f, err := asset.Open(path)
		require.NoError(t, err)
		for _, n := range f.Doc.Nodes {
			names = append(names, n.Name)
		}
		return names
	}
	want := joints(filepath.Join(out, "body.glb"))
	require.Greater(t, len(want), len(joints(body)))
	for _, name := range []string{"arms.glb", "deep/legs.glb"} {
		require.Equal(t, want, joints(filepath.Join(out, name)))
		later := filepath.Join(t.TempDir(), "later.glb")
		got = pronate(t, "", "split", filepath.Join(clips, name), "--limbs", resolved, "-o", later)
		require.Equal(t, exitDone, got.code, got.err)
		first, err := os.ReadFile(filepath.Join(out, name))
		require.NoError(t, err)
		again, err := os.ReadFile(later)
		require.NoError(t, err)
		require.Equal(t, first, again, name)
	}
	got = pronate(t, "", "split", "--character", body, clips, "-o", out)
	require.Equal(t, exitDone, got.code, got.err)
	require.Contains(t, got.out, "0 split, 3 up to date, 0 failed")
}

// A run on one file writes its resolved limb file where it is asked to.
func TestSplitResolved(t *testing.T) {
	body, clips := studio(t)
	resolved := filepath.Join(t.TempDir(), "resolved.yaml")
	one := filepath.Join(clips, "arms.glb")
	got := pronate(t, "", "split", one, "--character", body, "--resolved", resolved, "-o", filepath.Join(t.TempDir(), "out.glb"))
	require.Equal(t, exitDone, got.code, got.err)
	text, err := os.ReadFile(resolved)
	require.NoError(t, err)
	limbs, err := asset.ParseLimbs(resolved, text)
	require.NoError(t, err)
	require.True(t, limbs.Resolved)
	for _, l := range limbs.Limbs {
		require.GreaterOrEqual(t, l.Segments, 2)
	}

	got = pronate(t, "", "split", clips, "--resolved", resolved, "-o", t.TempDir())
	require.Equal(t, exitUsage, got.code)
	require.Contains(t, got.err, "expected --character with it")
	nothing := filepath.Join(t.TempDir(), "none.glb")
	got = pronate(t, "", "split", one, "--character", nothing, "-o", filepath.Join(t.TempDir(), "out.glb"))
	require.Equal(t, exitFailed, got.code)
	require.Contains(t, got.err, nothing)
}
