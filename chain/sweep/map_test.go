package sweep_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/stretchr/testify/require"
)

// The mean of sin^2 of the latitude over a band of the sphere, from b0 to b1,
// is (sin^3 b1 - sin^3 b0)/(3 (sin b1 - sin b0)); the trapezium rule at one
// degree is within step^2/12 times the second derivative, at most 2, of it.
func TestMapWeighsByArea(t *testing.T) {
	hip := sweep.Hip(down, forward, left)
	m, err := hip.Map(0, func(_, abduction float64) float64 { return math.Sin(abduction) })
	require.NoError(t, err)
	low, high := math.Sin(-30*degree), math.Sin(45*degree)
	mean := (high*high*high - low*low*low) / (3 * (high - low))
	require.InDelta(t, mean, m.RMS*m.RMS, degree*degree/12*2*2)
	require.InDelta(t, math.Sin(45*degree), m.Worst, component)
	require.Equal(t, hip.Abduction[1], m.WorstAt.Abduction)
	require.Empty(t, m.Undefined)

	one, err := sweep.Shoulder(down, forward, left).Map(3*degree, func(_, _ float64) float64 { return 1 })
	require.NoError(t, err)
	require.InDelta(t, 1, one.RMS, component)
}

func TestMapGrid(t *testing.T) {
	hip := sweep.Hip(down, forward, left)
	m, err := hip.Map(10*degree, func(flexion, abduction float64) float64 { return flexion + 100*abduction })
	require.NoError(t, err)
	require.Len(t, m.Flexion, 16)  // 150 degrees in tens
	require.Len(t, m.Abduction, 9) // 75 degrees in steps of 9.375
	require.Equal(t, hip.Flexion, [2]float64{m.Flexion[0], m.Flexion[15]})
	require.Equal(t, hip.Abduction, [2]float64{m.Abduction[0], m.Abduction[8]})
	for i, f := range m.Flexion {
		for j, b := range m.Abduction {
			require.Equal(t, f+100*b, m.At(i, j))
		}
	}
}

func TestMapUndefined(t *testing.T) {
	hip := sweep.Hip(down, forward, left)
	m, err := hip.Map(15*degree, func(flexion, abduction float64) float64 {
		if flexion > 100*degree {
			return math.NaN()
		}
		return -2
	})
	require.NoError(t, err)
	require.Len(t, m.Undefined, 2*6) // flexion 105 and 120, six abductions each
	require.InDelta(t, 105*degree, m.Undefined[0].Flexion, component)
	require.InDelta(t, 2, m.RMS, component)
	require.Equal(t, -2., m.Worst)

	m, err = hip.Map(0, func(_, _ float64) float64 { return math.NaN() })
	require.NoError(t, err)
	require.True(t, math.IsNaN(m.Worst) && math.IsNaN(m.RMS))
	require.Len(t, m.Undefined, 151*76)
}

// A range that is one line, or one place, is swept as that.
func TestMapOfALine(t *testing.T) {
	m := sweep.Motion{Range: chain.Range{Flexion: [2]float64{0, 1}, Down: down, Forward: forward, Out: left}}
	swept, err := m.Map(0.5, func(flexion, _ float64) float64 { return flexion })
	require.NoError(t, err)
	require.Equal(t, []float64{0, 0.5, 1}, swept.Values)
	require.InDelta(t, math.Sqrt(1./3), swept.RMS, component) // exact for a parabola
}

func TestMapErrors(t *testing.T) {
	hip := sweep.Hip(down, forward, left)
	one := func(_, _ float64) float64 { return 1 }
	for _, step := range []float64{-1, 1e-9, 4, math.NaN(), math.Inf(1)} {
		_, err := hip.Map(step, one)
		require.ErrorContains(t, err, "expected 0.0017 to 3.1416 radians")
		_, err = sweep.Compare(hip, sweep.Options{Step: step})
		require.ErrorContains(t, err, "sweep: step is ")
	}
	hip.Abduction = [2]float64{-0.5, 2}
	_, err := hip.Map(0, one)
	require.EqualError(t, err, "sweep: abduction is [-0.5, 2], expected least before greatest, within 1.5708 either way")
	hip.Flexion[0] = math.NaN()
	_, err = hip.Map(0, one)
	require.ErrorContains(t, err, "sweep: flexion is [NaN, ")
}
