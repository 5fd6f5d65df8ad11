package check_test

import (
	"slices"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/check"
	"github.com/stretchr/testify/require"
)

// At 140 degrees of flexion Wren's elbows lie 35 mm in themselves. With 2 cm of
// relief on either side it is less than half, and nothing moves at rest.
func TestReliefAtTheElbow(t *testing.T) {
	if testing.Short() {
		t.Skip("it splits a character many times")
	}
	limbs, err := asset.Detect(wren(t))
	require.NoError(t, err)
	specs := slices.Clone(limbs.Limbs)
	plain, err := check.Run(wren(t), check.Options{Limbs: specs, AsAsked: true})
	require.NoError(t, err)
	for i := range limbs.Limbs {
		l := &limbs.Limbs[i]
		switch l.Joint {
		case "upper_arm_l", "upper_arm_r":
			l.Crease = &asset.Crease{At: "end", Most: 0.02}
		case "forearm_l", "forearm_r":
			l.Crease = &asset.Crease{At: "root", Most: 0.02}
		}
	}
	eased, err := check.Run(wren(t), check.Options{Limbs: limbs.Limbs, AsAsked: true})
	require.NoError(t, err)
	elbows := 0
	for i, fold := range plain.Folds {
		require.Equal(t, fold.Before, eased.Folds[i].Before)
		require.InDelta(t, fold.Before, fold.After, 1e-4, "a split alone eases nothing")
		if fold.Flexion != 140 {
			continue
		}
		elbows++
		require.Greater(t, fold.Before, 0.02)
		require.Less(t, eased.Folds[i].After, 0.5*fold.Before, fold.Joint)
	}
	require.Equal(t, 2, elbows)
	_, report, err := asset.Split(wren(t), asset.Options{Limbs: limbs.Limbs, AsAsked: true})
	require.NoError(t, err)
	require.Less(t, report.RestErrorMax, 1e-6)
}
