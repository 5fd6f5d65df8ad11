package asset_test

import (
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// FuzzSplit takes whole files through the whole job. Whatever the bytes, there
// is a result that reads back or an error of one line, and no panic.
func FuzzSplit(f *testing.F) {
	for _, o := range []fixture.Options{
		{Clips: []string{"wild"}, RingsPerBone: 2, Sides: 3, KeysPerSecond: 2},
		{Clips: []string{"step"}, RingsPerBone: 2, Sides: 3, KeysPerSecond: 2, Interpolation: "CUBICSPLINE", Sparse: true, Weights: fixture.UByte, Rotations: fixture.Short},
		{Clips: []string{"swing"}, RingsPerBone: 2, Sides: 3, KeysPerSecond: 2, SeveralSkins: true, SharedMesh: true, Mirrored: true, Container: fixture.Embedded},
	} {
		c, err := fixture.Build(o)
		require.NoError(f, err)
		f.Add(c.Data, false)
		f.Add(c.Data, true)
	}
	f.Fuzz(func(t *testing.T, data []byte, live bool) {
		file, err := asset.Decode("fuzz.glb", data, nil)
		if err != nil {
			requireOneLine(t, err)
			return
		}
		options := asset.Options{AsAsked: true}
		if live {
			options.Live, options.Nearest = asset.LiveBesideClips, true
		}
		out, _, err := asset.Split(file, options)
		if err != nil {
			requireOneLine(t, err)
			return
		}
		again, err := out.Encode(true, false)
		require.NoError(t, err)
		_, err = asset.Decode("again.glb", again, nil)
		require.NoError(t, err)
	})
}

// requireOneLine allows the help on writing a limb file, which follows its
// first line, and nothing else of more than a line.
func requireOneLine(t *testing.T, err error) {
	t.Helper()
	var help *asset.NoLimbsError
	if !strings.Contains(err.Error(), "\n") {
		return
	}
	require.ErrorAs(t, err, &help)
}

// A file cut off anywhere, or with any byte turned over, never panics.
func TestDamagedFilesAreSurvived(t *testing.T) {
	c, err := fixture.Build(fixture.Options{Clips: []string{"wild"}, RingsPerBone: 2, Sides: 3, KeysPerSecond: 2})
	require.NoError(t, err)
	try := func(data []byte) {
		file, err := asset.Decode("damaged.glb", data, nil)
		if err == nil {
			_, _, err = asset.Split(file, asset.Options{AsAsked: true})
		}
		if err != nil {
			requireOneLine(t, err)
		}
	}
	for cut := 0; cut < len(c.Data); cut += 211 {
		_, err := asset.Decode("damaged.glb", c.Data[:cut], nil)
		require.Error(t, err)
		requireOneLine(t, err)
	}
	for at := 0; at < len(c.Data); at += 97 {
		damaged := append([]byte{}, c.Data...)
		damaged[at] ^= 0xff
		try(damaged)
	}
}
