package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/stretchr/testify/require"
)

// started is a transform as a worker has it: from JSON, then set up.
func started(t *testing.T, j job) *splitFn {
	t.Helper()
	text, err := json.Marshal(&splitFn{Job: j})
	require.NoError(t, err)
	f := &splitFn{}
	require.NoError(t, json.Unmarshal(text, f))
	require.NoError(t, f.Setup())
	t.Cleanup(func() { require.NoError(t, f.Teardown()) })
	return f
}

// One source done by several workers at once, and again, is as if done once.
func TestTwiceAtOnce(t *testing.T) {
	_, wren := commandLine(t)
	in := t.TempDir()
	put(t, in, "wren.glb", wren)
	j, err := newJob(t.Context(), in, filepath.Join(t.TempDir(), "out"), "")
	require.NoError(t, err)
	source := under(j.From, "wren.glb")
	var all sync.WaitGroup
	for range 3 {
		f := started(t, j)
		all.Go(func() {
			if _, err := f.one(context.Background(), source); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	file, err := asset.Decode(source, wren, nil)
	require.NoError(t, err)
	split, _, err := asset.Split(file, asset.Options{})
	require.NoError(t, err)
	expected, err := split.Encode(true, false)
	require.NoError(t, err)
	once := contents(t, j.To)
	require.Equal(t, sum(expected), once["wren.glb"], "the bytes of a split in one process")
	require.Len(t, once, 2, "an output, its record and nothing else")
	status, err := started(t, j).one(t.Context(), source)
	require.NoError(t, err)
	require.Equal(t, statusUpToDate, status)
	require.Equal(t, once, contents(t, j.To))
}

// Whatever an output was made from may change, be damaged or get lost: it is made
// anew, and of nothing else.
func TestMadeAnew(t *testing.T) {
	_, wren := commandLine(t)
	in := t.TempDir()
	gltf, bin := apartFrom(t, wren, "wren.bin")
	put(t, in, "wren.gltf", gltf)
	put(t, in, "wren.bin", bin)
	limbs := filepath.Join(t.TempDir(), "limbs.yaml")
	text, err := os.ReadFile(filepath.Join(shared, "wren-limbs.yaml"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(limbs, text, 0o644))
	out := filepath.Join(t.TempDir(), "out")
	j, err := newJob(t.Context(), in, out, limbs)
	require.NoError(t, err)
	do := func() string {
		status, err := started(t, j).one(t.Context(), under(j.From, "wren.gltf"))
		require.NoError(t, err)
		return status
	}
	require.Equal(t, statusSplit, do())
	require.Equal(t, statusUpToDate, do())
	whole := contents(t, out)

	bin[0] ^= 1 // of a vertex's place, far below what a test of sanity would mind
	put(t, in, "wren.bin", bin)
	require.Equal(t, statusSplit, do(), "a buffer")
	bin[0] ^= 1
	put(t, in, "wren.bin", bin)
	require.Equal(t, statusSplit, do(), "a buffer, back again")
	require.Equal(t, whole, contents(t, out))

	put(t, out, "wren.gltf", []byte("half"))
	require.Equal(t, statusSplit, do(), "the output")
	put(t, out, recordFolder+"/wren.gltf.txt", []byte("beside \"\n"))
	require.Equal(t, statusSplit, do(), "the record")
	require.NoError(t, os.Remove(filepath.Join(out, "wren.gltf")))
	require.Equal(t, statusSplit, do(), "the output, gone")
	require.Equal(t, whole, contents(t, out))

	j.Limbs = append(bytes.Clone(j.Limbs), '\n')
	require.Equal(t, statusSplit, do(), "the limb file")
	require.Equal(t, statusUpToDate, do())
}

// A resolved limb file is taken as it is; of another one the split decides what it leaves
// open.
func TestResolvedLimbFilesAreTakenAsTheyAre(t *testing.T) {
	for text, want := range map[string]bool{
		"version: 1\nlimbs: [{joint: thigh_l, end: shin_l}]\n":                              false,
		"version: 1\nresolved: true\nlimbs: [{joint: thigh_l, end: shin_l, segments: 3}]\n": true,
	} {
		limbs := filepath.Join(t.TempDir(), "limbs.yaml")
		require.NoError(t, os.WriteFile(limbs, []byte(text), 0o644))
		j, err := newJob(t.Context(), t.TempDir(), filepath.Join(t.TempDir(), "out"), limbs)
		require.NoError(t, err)
		require.Equal(t, want, started(t, j).options.AsAsked)
	}
}
