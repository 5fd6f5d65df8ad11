package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/demo"
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
	limbs, err := asset.Detect(before)
	require.NoError(t, err)
	_, report, err := asset.Split(before, asset.Options{Limbs: limbs.Limbs})
	require.NoError(t, err)

	// Enough segments for each limb's own twist, and not one too many. That no limb
	// gets its number by default is seen by their differing.
	joints, numbers := 0, map[int]bool{}
	for _, l := range report.Limbs {
		n := 0
		stem, side := l.Joint[:len(l.Joint)-2], l.Joint[len(l.Joint)-2:] // Wren's joints end in _l and _r
		for _, node := range after.Doc.Nodes {
			if strings.HasPrefix(node.Name, stem+"_segment") && strings.HasSuffix(node.Name, side) {
				n++
			}
		}
		span := func(n int) float64 { return l.TwistMaxDeg * math.Pi / 180 / float64(n-1) }
		require.GreaterOrEqual(t, skin.RadiusFactor(0.5, span(n)), 1-mostLoss, l.Name)
		if n > 2 {
			require.Less(t, skin.RadiusFactor(0.5, span(n-1)), 1-mostLoss, l.Name)
		}
		require.Contains(t, log.String(), l.Name+": ")
		joints += n
		numbers[n] = true
	}
	require.Len(t, after.Doc.Nodes, len(before.Doc.Nodes)+joints)
	require.Greater(t, len(numbers), 1)
}

func TestSplitErrors(t *testing.T) {
	folder := t.TempDir()
	in, out := filepath.Join(folder, "in.glb"), filepath.Join(folder, "out.glb")
	require.ErrorIs(t, split(&strings.Builder{}, in, out), os.ErrNotExist)
	require.NoError(t, os.WriteFile(in, []byte("{}"), 0o644))
	require.ErrorContains(t, split(&strings.Builder{}, in, out), in)
	require.NoFileExists(t, out)
}
