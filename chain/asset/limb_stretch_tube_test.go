package asset

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/skin"
	"github.com/stretchr/testify/require"
)

// A skinned tube keeps its volume. Shared equally, every segment scales alike
// and nothing is lost; shared unequally, blending between segments of different
// lengths costs a few parts in a hundred at a strong squash.
func TestTubeKeepsItsVolume(t *testing.T) {
	const n = 4
	for _, c := range []struct {
		shares    []float64
		tolerance float64
	}{{nil, 1e-12}, {[]float64{0.2, 0.3, 0.3, 0.2}, 0.03}} {
		s, err := chain.NewStretcher(chain.Limb{Length: 0.4, Segments: n}, chain.Stretch{Shares: c.shares})
		require.NoError(t, err)
		dst := make([]chain.Stretched, n)
		for _, basis := range []skin.Basis{skin.Hat, skin.Quadratic} {
			s.ByRatio(dst, 1)
			rest, worst := tubeVolume(basis, dst), 0.
			for ratio := 0.7; ratio <= 1.5; ratio += 0.05 {
				s.ByRatio(dst, ratio)
				worst = max(worst, math.Abs(tubeVolume(basis, dst)/rest-1))
			}
			t.Logf("%v, shares %v: %.2g of the volume", basis, c.shares, worst)
			require.LessOrEqual(t, worst, c.tolerance, "%v, shares %v", basis, c.shares)
		}
	}
}

// tubeVolume is that of a tube 0.4 long and 0.05 thick about a bone, skinned to
// its segments: 24 sides, rings a hundredth of the length apart, frusta between.
func tubeVolume(basis skin.Basis, pieces []chain.Stretched) (volume float64) {
	const rings, sides, length, radius = 100, 24, 0.4, 0.05
	weights := make([]float64, len(pieces))
	ring := func(k int) (x, r float64) {
		u := float64(k) / rings
		basis.Weights(weights, u)
		for i, w := range weights {
			p, root := pieces[i], length*float64(i)/float64(len(pieces))
			x += w * (p.At + p.Along*(u*length-root))
			r += w * p.Across * radius
		}
		return x, r
	}
	polygon := sides / 2 * math.Sin(2*math.Pi/sides) // of radius 1
	for k := range rings {
		x0, r0 := ring(k)
		x1, r1 := ring(k + 1)
		volume += polygon * (x1 - x0) * (r0*r0 + r0*r1 + r1*r1) / 3 // a frustum
	}
	return volume
}
