package kernel

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// The standard library's sine and cosine are within 1.45 units in the last
// place (measured on amd64 against 200-bit arithmetic), 2^-53 each at most for
// results below 1; the bound leaves room for them.
const libraryError = 1.5 * 0x1p-53

func TestSincosWithinBound(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	check := func(x float64) {
		sin, cos := sincos(x)
		require.InDelta(t, math.Sin(x), sin, MaxTrigError+libraryError, "sin %v", x)
		require.InDelta(t, math.Cos(x), cos, MaxTrigError+libraryError, "cos %v", x)
		require.InDelta(t, 1, sin*sin+cos*cos, 4*MaxTrigError, "unit length at %v", x)
	}
	for _, x := range []float64{0, math.Pi / 2, -math.Pi / 2, math.Pi / 4, 5e-324, 1e-300, 1e-8} {
		check(x)
		check(-x)
	}
	for range 100000 {
		check((random.Float64() - 0.5) * math.Pi)
	}
}

func TestSincosOfZeroIsExact(t *testing.T) {
	sin, cos := sincos(0)
	require.Equal(t, 0.0, sin)
	require.Equal(t, 1.0, cos)
}

func TestAtan2WithinBound(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	check := func(angle float64) {
		w, p := math.Cos(angle), math.Sin(angle)
		want := math.Atan2(p, w)
		// The library's own 1.37 units in the last place, and the rounding of
		// n, which moves the quarter angle's tangent by as much at most.
		require.InDelta(t, want, atan2(p, w, math.Hypot(p, w)), (MaxAtanError+3*0x1p-52)*math.Abs(want)+0x1p-1074, "%v", angle)
	}
	for _, x := range []float64{0, math.Pi / 2, -math.Pi / 2, math.Pi / 4, 5e-324, 1e-300, 1e-8} {
		check(x)
	}
	for range 100000 {
		check((random.Float64() - 0.5) * math.Pi)
	}
}

func TestWrapHalfKeepsTheRotation(t *testing.T) {
	for _, half := range []float64{0, 1, -1, math.Pi / 2, -math.Pi / 2, 2, -2, math.Pi, -math.Pi} {
		wrapped := wrapHalf(half)
		require.LessOrEqual(t, math.Abs(wrapped), math.Pi/2)
		sign := math.Copysign(1, math.Cos(half)*math.Cos(wrapped)+math.Sin(half)*math.Sin(wrapped))
		require.InDelta(t, math.Cos(half), sign*math.Cos(wrapped), 1e-15)
		require.InDelta(t, math.Sin(half), sign*math.Sin(wrapped), 1e-15)
	}
}
