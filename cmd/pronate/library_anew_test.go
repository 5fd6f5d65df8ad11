package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/library"
	"github.com/stretchr/testify/require"
)

// What an output is made from, and the output itself: a change of any has it made
// anew, and nothing else.
func TestLibraryMakesAnewWhatChanged(t *testing.T) {
	in, out := t.TempDir(), t.TempDir()
	first := putSmall(t, in, 1)
	c := small(t, 2, fixture.Options{Container: fixture.External, Furnishings: true})
	put(t, filepath.Join(in, c.Name), c.Data)
	for name, data := range c.Files {
		put(t, filepath.Join(in, name), data)
	}
	limbs := putLimbs(t)
	args := []string{in, "-o", out, "--limbs", limbs}
	split := func(names ...string) { // runs, and expects these to be split
		t.Helper()
		want := map[string]string{"clip-001.glb": "up to date", "clip-002.gltf": "up to date"}
		for _, name := range names {
			want[name] = "split"
		}
		require.Equal(t, want, statuses(t, args...))
		fresh := t.TempDir()
		got := pronate(t, "", append([]string{"split", "-o", fresh}, append(args[3:], in)...)...)
		require.Equal(t, exitDone, got.code, got.err)
		require.Equal(t, tree(t, fresh), tree(t, out), "as a run into an empty folder")
	}
	both := []string{"clip-001.glb", "clip-002.gltf"}
	split(both...)
	split()
	data, err := os.ReadFile(limbs)
	require.NoError(t, err)
	put(t, limbs, []byte(strings.Replace(string(data), "range: none", "range: none, segments: 4", 1)))
	split(both...)
	for _, more := range [][]string{{"--weights", "hat"}, {"--influences", "8"}, {"--tolerance", "0.1"}, {"--history"}, {"--names", "{joint}.{n}"}} {
		args = append(args, more...)
		split(both...)
	}
	split()
	args = args[:5] // constraints know no history
	for _, more := range [][]string{{"--live"}, {"--nearest"}, {"--live-only"}} {
		args = append(args, more...)
		split(both...)
	}
	split()
	for _, name := range both { // an output edited, its size and time as they were
		path := filepath.Join(out, name)
		info, err := os.Stat(path)
		require.NoError(t, err)
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		data[len(data)/2] ^= 1
		put(t, path, data)
		require.NoError(t, os.Chtimes(path, time.Time{}, info.ModTime()))
		split(name)
		require.NoError(t, os.Remove(path))
		split(name)
	}
	put(t, first, small(t, 3, fixture.Options{}).Data)
	split("clip-001.glb")
	for name, data := range c.Files { // buffers and the image
		path := filepath.Join(in, name)
		if strings.HasSuffix(name, ".png") { // kept by its address while it is not there
			require.NoError(t, os.Remove(path))
			split("clip-002.gltf")
			put(t, path, data)
			split("clip-002.gltf")
		}
		put(t, path, append(data[:len(data):len(data)], 0))
		split("clip-002.gltf")
	}
	require.NoError(t, os.Chtimes(first, time.Now(), time.Now()), "times play no part")
	split()
	put(t, filepath.Join(out, library.RecordName), []byte("{"))
	split(both...)
}
