package steady_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/internal/oracle"
	"github.com/pronate/pronate/internal/steady"
	"github.com/stretchr/testify/require"
)

// TestSincosError holds sines and cosines to math/big: next to the quarter turns, and
// all over the angles that quarter turns are taken out of in one go.
func TestSincosError(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	angles := []float64{0, math.Pi / 4, -math.Pi / 4, 0x1p-1074, 0x1p-30, 100, -1000, (1<<20 - 1) * math.Pi / 2}
	for k := range 9 {
		for _, off := range []float64{-1e-3, -1e-8, 0, 1e-8, 1e-3} {
			angles = append(angles, float64(k-4)*math.Pi/2+off)
		}
	}
	for range 1500 {
		angles = append(angles, (random.Float64()-0.5)*4*math.Pi, (random.Float64()-0.5)*(1<<20)*math.Pi)
	}
	worst := 0.
	for _, x := range angles {
		sin, cos := steady.Sincos(x)
		off := func(got float64, want oracle.Real) float64 { return want.Sub(oracle.Float(got)).Abs().Float64() }
		far := max(off(sin, oracle.Sin(oracle.Float(x))), off(cos, oracle.Cos(oracle.Float(x))))
		require.LessOrEqual(t, far, steady.MaxTrigError, "%g", x)
		worst = max(worst, far)
	}
	t.Logf("worst %.2f of 2^-53, allowed %g", worst*0x1p53, steady.MaxTrigError*0x1p53)
}

// TestSincosFar: beyond, the angle's own last digit is the bound.
func TestSincosFar(t *testing.T) {
	for _, x := range []float64{1e7, -3e9, 1e15, 0x1p60, -1e300, math.MaxFloat64} {
		sin, cos := steady.Sincos(x)
		require.InDelta(t, 1, sin*sin+cos*cos, 1e-15)
		if off := math.Abs(x)*0x1p-54 + steady.MaxTrigError; off < 1 {
			require.InDelta(t, oracle.Sin(oracle.Float(x)).Float64(), sin, off)
			require.InDelta(t, oracle.Cos(oracle.Float(x)).Float64(), cos, off)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		sin, cos := steady.Sincos(x)
		require.True(t, math.IsNaN(sin) && math.IsNaN(cos), "%g", x)
	}
}

func TestAtan2Error(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	points := [][2]float64{
		{0, 1}, {0, -1}, {1, 0}, {-1, 0}, {1, 1}, {-1, -1}, {1e-300, 1}, {1e-300, -1}, {1, 1e-300},
		{math.MaxFloat64, math.MaxFloat64}, {5e-324, 5e-324}, {3e-200, -4e-200}, {1e-9, -1}, {-1e-9, -1},
	}
	for range 1500 {
		points = append(points, [2]float64{random.NormFloat64(), random.NormFloat64()},
			[2]float64{random.NormFloat64() * 1e-6, random.NormFloat64()})
	}
	worst := 0.
	for _, p := range points {
		got := steady.Atan2(p[0], p[1])
		want := oracle.Atan2(oracle.Float(p[0]), oracle.Float(p[1]))
		if want.Sign() == 0 {
			require.Zero(t, got)
			continue
		}
		off := want.Sub(oracle.Float(got)).Div(want).Abs().Float64()
		require.LessOrEqual(t, off, steady.MaxAtanError, "%v", p)
		worst = max(worst, off)
	}
	t.Logf("worst %.2f of 2^-52, allowed %g", worst*0x1p52, steady.MaxAtanError*0x1p52)
}

func TestAtan2Edges(t *testing.T) {
	require.Zero(t, steady.Atan2(0, 0))
	require.Equal(t, math.Pi, steady.Atan2(0, -1))
	require.Equal(t, -math.Pi, steady.Atan2(math.Copysign(0, -1), -1))
	for _, bad := range []float64{math.NaN(), math.Inf(1)} {
		require.True(t, math.IsNaN(steady.Atan2(bad, 1)))
		require.True(t, math.IsNaN(steady.Atan2(1, bad)))
	}
}
