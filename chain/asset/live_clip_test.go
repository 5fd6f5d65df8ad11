package asset_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/player"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

// In Wren's clips constraints and baked channels agree, to the bake's own tolerance;
// baked instead, the clips turn nothing and the constraints still do.
func TestLiveAgreesWithTheBake(t *testing.T) {
	scenes := map[asset.Live]*player.Scene{}
	var report asset.Report
	for _, live := range []asset.Live{asset.LiveBesideClips, asset.LiveInsteadOfClips} {
		split, r, err := asset.Split(wren(), asset.Options{AsAsked: true, Live: live, Nearest: true})
		require.NoError(t, err)
		encoded, err := split.Encode(true, false)
		require.NoError(t, err)
		scenes[live], err = player.Load(encoded)
		require.NoError(t, err)
		report = r
	}
	for _, c := range report.Clips {
		require.Zero(t, c.KeysOut)
	}
	beside, instead := scenes[asset.LiveBesideClips], scenes[asset.LiveInsteadOfClips]
	const steps = 16
	turned := 0.0
	for _, clip := range beside.Clips() {
		for i := range steps + 1 {
			at := beside.Duration(clip) * float64(i) / steps
			baked := beside.Pose(clip, at)
			live, alone := baked.Constrained(), instead.Pose(clip, at).Constrained()
			for _, l := range report.Limbs {
				for _, name := range l.Segments {
					require.LessOrEqual(t, angleBetween(baked.Rotation(name), live.Rotation(name)), asset.DefaultTolerance+2*liveTolerance, "%s at %.3f s: %s", clip, at, name)
					require.LessOrEqual(t, angleBetween(alone.Rotation(name), live.Rotation(name)), 1e-12)
					turned = max(turned, angleBetween(live.Rotation(name), [4]float64{0, 0, 0, 1}))
					require.Empty(t, instead.Keys(clip, name, "rotation"))
				}
			}
		}
	}
	require.Greater(t, turned, 1.0) // radians: the clips do twist her limbs
}

func angleBetween(a, b [4]float64) float64 {
	d := quat.Mul(quat.Conj(fromList(a)), fromList(b))
	return 2 * math.Atan2(quat.Abs(quat.Number{Imag: d.Imag, Jmag: d.Jmag, Kmag: d.Kmag}), math.Abs(d.Real))
}
