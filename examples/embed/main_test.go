package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/stretchr/testify/require"
)

func TestSplit(t *testing.T) {
	folder := t.TempDir()
	in, out := filepath.Join(folder, "in.glb"), filepath.Join(folder, "out.glb")
	data, err := demo.Wren()
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(in, data, 0o644))
	require.NoError(t, split(in, out))
	before, err := asset.Open(in)
	require.NoError(t, err)
	after, err := asset.Open(out)
	require.NoError(t, err)
	require.Len(t, after.Doc.Nodes, len(before.Doc.Nodes)+2*4+2*3, "four segments a thigh, three an upper arm")
}
