package asset_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// Segments that may stretch and ease stand turned at rest in every kind of
// file: rest stays, skin off the limbs stays, and where a clip folds no joint
// beyond the onset nothing at all differs from a split without.
func TestShapesInEveryVariant(t *testing.T) {
	for name, o := range variants {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			o.Clips = allClips
			character, err := fixture.Build(o)
			require.NoError(t, err)
			limbs := withoutCentre(t, character)
			plain := splitVariant(t, name+"-unshaped", o, asset.Options{AsAsked: true, Limbs: limbs})
			limbs = slices.Clone(limbs)
			creased := 0
			for i := range limbs {
				limbs[i].Stretch = &asset.Stretch{}
				if strings.HasPrefix(limbs[i].Joint, "thigh") || strings.HasPrefix(limbs[i].Joint, "upper_arm") {
					limbs[i].Crease = &asset.Crease{At: asset.CreaseAtEnd, Most: 0.02, OnsetDeg: 10, FullDeg: 90}
					creased++
				}
				if strings.HasPrefix(limbs[i].Joint, "forearm") {
					limbs[i].Crease = &asset.Crease{At: asset.CreaseAtRoot, Most: 0.02, OnsetDeg: 10, FullDeg: 90}
					creased++
				}
			}
			c := splitVariant(t, name+"-shaped", o, asset.Options{AsAsked: true, Limbs: limbs})
			require.LessOrEqual(t, c.report.RestErrorMax, bindTolerance)
			require.LessOrEqual(t, c.farthest("", 0, c.untwisted(o)), restTolerance)
			off := c.offLimb()
			for _, at := range []float64{0.2, 0.77, 1.3} {
				require.Zero(t, c.farthest("wild", at, off), "vertices off the limbs")
				for _, clip := range []string{"twist thigh", "swing", "wild"} {
					a, b := plain.split.Pose(clip, at).Vertices(), c.split.Pose(clip, at).Vertices()
					worst := 0.
					for v := range a {
						worst = max(worst, mgl64.Vec3(a[v]).Sub(mgl64.Vec3(b[v])).Len())
					}
					// 2 cm, and what baking may leave.
					most := 0.02 + 4*asset.DefaultTolerance*c.source.Height()
					if clip == "twist thigh" && c.untwisted(o) == nil { // else the node pose folds joints
						most = restTolerance * c.source.Height()
					}
					require.LessOrEqual(t, worst, most, "%s at %g", clip, at)
				}
			}
			relief := 0.
			for _, l := range c.report.Limbs {
				require.InDelta(t, 1, l.StretchMost, 1e-6)
				relief = math.Max(relief, l.ReliefMax)
			}
			if creased > 0 {
				require.Positive(t, relief, "the wild clip folds knees and elbows")
				require.LessOrEqual(t, relief, 0.02+1e-12)
			}
		})
	}
}
