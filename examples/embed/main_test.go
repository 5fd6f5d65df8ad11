package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/qmuntal/gltf"
	"github.com/stretchr/testify/require"
)

func TestSplit(t *testing.T) {
	folder := t.TempDir()
	in, out := filepath.Join(folder, "in.glb"), filepath.Join(folder, "out.glb")
	data, err := demo.Wren()
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(in, data, 0o644))
	var log strings.Builder
	require.NoError(t, split(&log, in, out))
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	require.Contains(t, string(readme), "```\n"+log.String()+"```\n")

	before, err := asset.Open(in)
	require.NoError(t, err)
	after, err := asset.Open(out)
	require.NoError(t, err)
	_, report, err := asset.Split(before, asset.Options{Influences: 8})
	require.NoError(t, err)

	// Each limb has the segments that were decided, and not all have the same number.
	joints, numbers := 0, map[int]bool{}
	for _, l := range report.Limbs {
		for _, name := range l.Segments {
			require.True(t, slices.ContainsFunc(after.Doc.Nodes, func(n *gltf.Node) bool { return n.Name == name }), name)
		}
		require.Contains(t, log.String(), l.Name+": ")
		joints += len(l.Segments)
		numbers[len(l.Segments)] = true
	}
	require.Len(t, after.Doc.Nodes, len(before.Doc.Nodes)+joints)
	require.Greater(t, len(numbers), 1)
}

// A limb that gains nothing by a split stays as it is, and the log says why.
func TestSomeStayAsTheyAre(t *testing.T) {
	folder := t.TempDir()
	in, out := filepath.Join(folder, "in.glb"), filepath.Join(folder, "out.glb")
	coarse, err := fixture.Build(fixture.Options{RingsPerBone: 2, Sides: 3})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(in, coarse.Data, 0o644))
	var log strings.Builder
	require.NoError(t, split(&log, in, out))
	require.Contains(t, log.String(), "left thigh: it stays as it is: ")
	require.FileExists(t, out)
}

func TestSplitErrors(t *testing.T) {
	folder := t.TempDir()
	in, out := filepath.Join(folder, "in.glb"), filepath.Join(folder, "out.glb")
	require.ErrorIs(t, split(&strings.Builder{}, in, out), os.ErrNotExist)
	require.NoError(t, os.WriteFile(in, []byte("{}"), 0o644))
	require.ErrorContains(t, split(&strings.Builder{}, in, out), in)
	require.NoFileExists(t, out)
}
