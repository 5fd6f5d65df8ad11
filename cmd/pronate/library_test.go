package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/library"
	"github.com/stretchr/testify/require"
)

func TestLibraryOfTwoHundred(t *testing.T) {
	in, limbs := t.TempDir(), putLimbs(t)
	for i := range 195 {
		putSmall(t, filepath.Join(in, fmt.Sprint("take ", i%3)), i)
	}
	whole := small(t, 500, fixture.Options{})
	bad := map[string][]byte{
		"take 0/cut.glb":       whole.Data[:len(whole.Data)/2],
		"take 1/empty.gltf":    nil,
		"take 1/text.glb":      []byte("no character"),
		"take 2/json.gltf":     []byte(`{"asset":`),
		"take 2/nameless.GLTF": small(t, 501, fixture.Options{Names: fixture.Meaningless, Container: fixture.Embedded}).Data,
	}
	for name, data := range bad {
		put(t, filepath.Join(in, name), data)
	}
	put(t, filepath.Join(in, "take 0", "notes.txt"), []byte("no character either"))

	out := filepath.Join(t.TempDir(), "out")
	got := pronate(t, "", "split", in, "-o", out, "--limbs", limbs)
	require.Equal(t, exitFailed, got.code)
	require.Equal(t, "195 split, 0 up to date, 5 failed; written to "+out+"\n", got.out)
	require.Equal(t, 5, strings.Count(got.err, "\n"), got.err)
	lines := strings.Split(got.err, "\n")
	for name := range bad {
		source := filepath.Join(in, name)
		require.Equal(t, 1, strings.Count(got.err, source), got.err)
		require.Contains(t, got.err, "pronate: "+source+": ")
	}
	require.Contains(t, lines[0], "cut.glb: has ")
	files := tree(t, out)
	require.Len(t, files, 196) // the record too, and nothing half-written
	require.Contains(t, files, library.RecordName)
	for i := range 195 {
		require.Contains(t, files, fmt.Sprintf("take %d/clip-%03d.glb", i%3, i))
	}
	alone := filepath.Join(t.TempDir(), "alone.glb")
	require.Equal(t, exitDone, pronate(t, "", "split", filepath.Join(in, "take 1", "clip-100.glb"), "-o", alone, "--limbs", limbs).code)
	data, err := os.ReadFile(alone)
	require.NoError(t, err)
	require.Equal(t, string(data), files["take 1/clip-100.glb"], "as split alone writes it")

	// Again: nothing to do.
	before := stamps(t, out)
	again := pronate(t, "", "split", in, "-o", out, "--limbs", limbs)
	require.Equal(t, exitFailed, again.code)
	require.Equal(t, "0 split, 195 up to date, 5 failed; written to "+out+"\n", again.out)
	require.Equal(t, got.err, again.err)
	require.Empty(t, rewritten(t, out, before))
	require.Equal(t, files, tree(t, out))

	// One worker or four: the same bytes.
	var few map[string]string
	for _, workers := range []string{"1", "4"} {
		other := filepath.Join(t.TempDir(), "other")
		require.Equal(t, exitFailed, pronate(t, "", "split", filepath.Join(in, "take 0"), "-o", other, "--limbs", limbs, "--workers", workers).code)
		made := tree(t, other)
		require.Len(t, made, 65+1)
		for name, data := range made {
			if name != library.RecordName {
				require.Equal(t, files["take 0/"+name], data, name)
			}
		}
		if few != nil {
			require.Equal(t, few, made)
		}
		few = made
	}
}

// With --json each file has the report that it has when it is split alone.
func TestLibraryJSON(t *testing.T) {
	in, out := t.TempDir(), t.TempDir()
	first := putSmall(t, in, 1)
	put(t, filepath.Join(in, "bad.glb"), nil)
	alone := pronate(t, "", "split", first, "--json", "-o", filepath.Join(t.TempDir(), "alone.glb"))
	var usual map[string]any
	require.NoError(t, json.Unmarshal([]byte(alone.out), &usual))
	file := map[string]any{"file": first, "output": filepath.Join(out, "clip-001.glb"), "status": "up to date"}
	bad := map[string]any{
		"file": filepath.Join(in, "bad.glb"), "output": filepath.Join(out, "bad.glb"), "status": "failed",
		"error": filepath.Join(in, "bad.glb") + ": is empty, expected a glTF 2.0 file",
	}
	split := maps.Clone(usual)
	maps.Copy(split, file)
	split["status"] = "split"
	require.Contains(t, split, "limbs")
	for _, want := range []map[string]any{split, file} {
		got := pronate(t, "", "split", in, "-o", out, "--json")
		require.Equal(t, exitFailed, got.code)
		require.Contains(t, got.err, "pronate: "+bad["error"].(string)+"\n")
		var told map[string][]map[string]any
		require.NoError(t, json.Unmarshal([]byte(got.out), &told))
		require.Equal(t, []map[string]any{bad, want}, told["files"])
	}
}
