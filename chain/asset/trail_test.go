package asset

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func curveOf(f func(float64) []float64, times ...float64) trail {
	out := newTrail(len(f(times[0])), 0)
	for _, t := range times {
		out.add(t, f(t)...)
	}
	return out
}

func steadily(n int) []float64 {
	times := make([]float64, n)
	for i := range times {
		times[i] = float64(i) / 10
	}
	return times
}

func TestThinKeepsAStraightLineByItsEnds(t *testing.T) {
	line := curveOf(func(t float64) []float64 { return []float64{t, -2 * t} }, steadily(11)...)
	kept := thin(line, 1e-9)
	require.Equal(t, []int{0, 10}, kept)
}

// Whatever the curve, straight lines between the kept samples stay within the
// tolerance of every sample, and the ends are kept.
func thinProperty(r *rapid.T) {
	values := rapid.SliceOfN(rapid.Float64Range(-1, 1), 2, 60).Draw(r, "values")
	tolerance := rapid.Float64Range(1e-6, 0.5).Draw(r, "tolerance")
	samples := newTrail(2, 0)
	for i, v := range values {
		samples.add(float64(i)*0.1, v, v*v)
	}
	kept := thin(samples, tolerance)
	require.Equal(r, 0, kept[0])
	require.Equal(r, len(values)-1, kept[len(kept)-1])
	of := func(i int) shapeSample { return shapeSample{samples.times[i], samples.at(i)} }
	at := 0
	for i := range values {
		for kept[at+1] < i {
			at++
		}
		// A cone's rounding: slopes of order 1/dt times the span.
		require.LessOrEqual(r, bent(of(kept[at]), of(i), of(kept[at+1])), tolerance+1e-12)
	}
}

func TestThin(t *testing.T) { rapid.Check(t, thinProperty) }
func FuzzThin(f *testing.F) { f.Fuzz(rapid.MakeFuzz(thinProperty)) }

// Viewers turn the short way round: keys may not be half a turn apart.
func TestThinNeverSpansHalfATurn(t *testing.T) {
	spin := curveOf(func(t float64) []float64 { return []float64{2 * t} }, steadily(60)...)
	kept := thin(spin, 0.1)
	for i := 1; i < len(kept); i++ {
		require.Less(t, apart(spin.at(kept[i-1]), spin.at(kept[i])), math.Pi)
	}
}
