package asset_test

import (
	"runtime"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// What comes out does not depend on how many cores there are, nor on what was
// baked before: short clips and one of several pieces, several limbs, with and without
// history.
func TestWorkersDoNotShow(t *testing.T) {
	character, err := fixture.Build(fixture.Options{Axes: fixture.Odd, Clips: allClips, KeysPerSecond: 2500})
	require.NoError(t, err)
	source, err := asset.Decode(character.Name, character.Data, nil)
	require.NoError(t, err)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, history := range []bool{false, true} {
		var first []byte
		var told asset.Report
		for _, workers := range []int{1, 2, 5, 2} {
			runtime.GOMAXPROCS(workers)
			split, report, err := asset.Split(source, asset.Options{AsAsked: true, History: history})
			require.NoError(t, err)
			data, err := split.Encode(true, false)
			require.NoError(t, err)
			if first == nil {
				first, told = data, report
			}
			require.True(t, string(first) == string(data), "%d workers, history %v", workers, history)
			require.Equal(t, told, report)
		}
		require.Greater(t, len(told.Limbs), 3)
	}
}
