package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Nothing found, and what lies too deep, are failures with a name.
func TestNotFound(t *testing.T) {
	folder := t.TempDir()
	in := filepath.Join(folder, "in")
	said := fleet(t, in, filepath.Join(folder, "out"), "")
	require.Equal(t, told{exitFailed, "0 split, 0 up to date, 1 failed; written to " + folder + "/out\n",
		"fleet: " + in + ": no .glb or .gltf in this folder or below\n"}, said)
	deep := strings.Repeat("d/", deepest+1) + "a.glb"
	put(t, in, deep, nil)
	said = fleet(t, in, filepath.Join(folder, "out"), "")
	require.Equal(t, exitFailed, said.code)
	require.Equal(t, "fleet: "+in+"/"+deep+": lies more than 8 folders down, expected a --from that is nearer\n", said.stderr)
}

// Outputs keep their path from the folder, or from where a pattern begins to vary;
// a folder of outputs below is no source.
func TestSearch(t *testing.T) {
	in := t.TempDir()
	for _, name := range []string{"odd [*]/a.glb", "odd [*]/b/c.GLTF", "odd [*]/out/a.glb", "odd [*]/b/d.txt", "odd x/e.glb"} {
		put(t, in, name, nil)
	}
	in = filepath.ToSlash(in)
	for from, c := range map[string]struct {
		folder string
		found  []string
	}{
		in + "/odd [*]":     {in + "/odd [*]", []string{"/a.glb", "/b/c.GLTF"}},
		in + "/odd x/*glb":  {in + "/odd x/*glb", nil}, // a folder's name, as it has no ending
		in + "/*/e*.glb":    {in, []string{"/odd x/e.glb"}},
		in + "/odd x/e.glb": {in + "/odd x", []string{"/e.glb"}},
	} {
		var found, failed []string
		f := &searchFn{Job: job{From: from, To: in + "/odd [*]/out"}}
		f.ProcessElement(t.Context(), nil,
			func(place string) { found = append(found, strings.TrimPrefix(place, c.folder)) },
			func(line string) { failed = append(failed, line) })
		require.Equal(t, c.folder, searchOf(from).folder)
		require.ElementsMatch(t, c.found, found, from)
		require.Equal(t, len(c.found) == 0, len(failed) == 1, failed)
	}
}

// A folder of outputs that is a link to one below the sources holds no sources.
func TestOutputsBehindALinkAreNoSources(t *testing.T) {
	from := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(from, "out"), 0o755))
	to := filepath.Join(t.TempDir(), "link")
	require.NoError(t, os.Symlink(filepath.Join(from, "out"), to))
	require.True(t, lies(filepath.Join(from, "out", "x.glb"), to))
	require.False(t, lies(filepath.Join(from, "outer", "x.glb"), to))
	require.False(t, lies(filepath.Join(from, "x.glb"), to))
}
