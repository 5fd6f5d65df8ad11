package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/library"
	"github.com/stretchr/testify/require"
)

func TestLibraryRefuses(t *testing.T) {
	folder := t.TempDir()
	a, b := filepath.Join(folder, "a"), filepath.Join(folder, "b")
	one := putSmall(t, a, 1)
	two := putSmall(t, b, 1)
	out := filepath.Join(folder, "out")
	put(t, filepath.Join(folder, "notes.txt"), nil)
	require.NoError(t, os.Mkdir(filepath.Join(folder, "linked"), 0o755))
	require.NoError(t, os.Symlink(one, filepath.Join(folder, "linked", "clip-001.glb")))
	nested := filepath.Join(folder, "nested")
	inner := putSmall(t, filepath.Join(nested, "clip-001.glb"), 2)
	kept := filepath.Join(folder, "kept")
	limbs, err := os.ReadFile(putLimbs(t))
	require.NoError(t, err)
	put(t, filepath.Join(kept, library.RecordName), limbs)
	loop := filepath.Join(folder, "loop") // two names of one folder of outputs
	require.NoError(t, os.MkdirAll(filepath.Join(loop, "left"), 0o755))
	require.NoError(t, os.Symlink("left", filepath.Join(loop, "right")))
	sides := filepath.Join(folder, "sides")
	left, right := putSmall(t, filepath.Join(sides, "left"), 1), putSmall(t, filepath.Join(sides, "right"), 1)
	before := tree(t, folder)
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{a, b, "-o", out}, []string{one, two, "would both be written to " + filepath.Join(out, "clip-001.glb")}},
		{[]string{one, two, "-o", out}, []string{one, two}},
		{[]string{a, nested, "-o", out}, []string{one, inner, "which is a folder for"}},
		{[]string{sides, "-o", loop}, []string{left, right, "would both be written to"}},
		{[]string{a, "-o", a}, []string{one + ", which is read, would be written over"}},
		{[]string{one, "-o", a}, []string{one}},
		{[]string{a, "-o", filepath.Join(folder, "linked")}, []string{one}},
		{[]string{a, "--limbs", filepath.Join(kept, library.RecordName), "-o", kept}, []string{library.RecordName + ", which is read, would be written over by the record"}},
		{[]string{a, "-o", "x.glb"}, []string{"-o x.glb: expected a folder"}},
		{[]string{a, "-o", "-"}, []string{"-o -: expected a folder"}},
		{[]string{one, "-", "-o", out}, []string{"IN - is split alone"}},
		{[]string{a}, []string{"split needs -o OUT, the folder to write to"}},
		{[]string{one, filepath.Join(folder, "notes.txt"), "-o", out}, []string{"notes.txt: expected a .glb, a .gltf or a folder"}},
		{[]string{a, "-o", filepath.Join(folder, "notes.txt")}, []string{"notes.txt: is a file, expected a folder"}},
		{[]string{a, "-o", out, "--workers", "-1"}, []string{"--workers -1"}},
	} {
		got := pronate(t, "", append([]string{"split"}, c.args...)...)
		require.Equal(t, exitUsage, got.code, got.err)
		require.Equal(t, 1, strings.Count(got.err, "\n"), got.err)
		for _, want := range c.want {
			require.Contains(t, got.err, want)
		}
		require.Empty(t, got.out)
	}
	require.Equal(t, before, tree(t, folder), "nothing was written")
}

// A folder of outputs within the sources is none of them, and what fails beside
// files that do not is told of.
func TestLibraryFindsItsSources(t *testing.T) {
	in := t.TempDir()
	first := putSmall(t, in, 1)
	out := filepath.Join(in, "out")
	for _, want := range []string{"1 split, 0 up", "0 split, 1 up"} {
		got := pronate(t, "", "split", in, first, in+"/", "-o", out)
		require.Equal(t, exitDone, got.code, got.err)
		require.Contains(t, got.out, want)
	}
	other := putSmall(t, filepath.Join(in, "more"), 2)
	nameless := filepath.Join(in, "nameless.glb")
	put(t, nameless, small(t, 3, fixture.Options{Names: fixture.Meaningless}).Data)
	got := pronate(t, "", "split", in, "-o", out)
	require.Equal(t, exitFailed, got.code)
	require.Regexp(t, "^pronate: "+nameless+": found no arms or legs by the names of its joints, expected [^\n]*\n$", got.err)
	require.NoError(t, os.Remove(nameless))
	require.NoError(t, os.Remove(filepath.Join(out, "more", "clip-002.glb")))
	bare := filepath.Join(in, "bare")
	require.NoError(t, os.Mkdir(bare, 0o755))
	missing := filepath.Join(in, "missing.glb")
	got = pronate(t, "", "split", other, bare, missing, "-o", out)
	require.Equal(t, exitFailed, got.code)
	require.Contains(t, got.out, "1 split, 0 up to date, 2 failed")
	require.Contains(t, got.err, bare+": no .glb or .gltf")
	require.Contains(t, got.err, missing)
	require.Equal(t, map[string]string{"clip-001.glb": "up to date", "clip-002.glb": "split"}, statuses(t, in, "-o", out), "an entry of another run is kept")

	// One file into a folder.
	got = pronate(t, "", "split", first, "-o", filepath.Join(in, "single")+"/")
	require.Equal(t, exitDone, got.code, got.err)
	require.FileExists(t, filepath.Join(in, "single", "clip-001.glb"))
}
