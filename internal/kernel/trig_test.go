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
	t.Run("float64", func(t *testing.T) { testSincos[float64](t, MaxTrigError64) })
	t.Run("float32", func(t *testing.T) { testSincos[float32](t, MaxTrigError32) })
}

func testSincos[F Real](t *testing.T, bound float64) {
	random := rand.New(rand.NewPCG(7, 11))
	check := func(angle float64) {
		x := F(angle)
		var sin, cos [1]F
		sincos(sin[:], cos[:], []F{x})
		require.InDelta(t, math.Sin(float64(x)), float64(sin[0]), bound+libraryError, "sin %v", x)
		require.InDelta(t, math.Cos(float64(x)), float64(cos[0]), bound+libraryError, "cos %v", x)
		require.GreaterOrEqual(t, cos[0], F(0))
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
	var sin, cos [1]float64
	sincos(sin[:], cos[:], []float64{0})
	require.Equal(t, [2]float64{0, 1}, [2]float64{sin[0], cos[0]})
	var sin32, cos32 [1]float32
	sincos(sin32[:], cos32[:], []float32{0})
	require.Equal(t, [2]float32{0, 1}, [2]float32{sin32[0], cos32[0]})
}

func TestAtanWithinBound(t *testing.T) {
	t.Run("float64", func(t *testing.T) { testAtan[float64](t, MaxAtanError64, 0x1p-52) })
	t.Run("float32", func(t *testing.T) { testAtan[float32](t, MaxAtanError32, 0x1p-23) })
}

func testAtan[F Real](t *testing.T, bound, eps float64) {
	random := rand.New(rand.NewPCG(3, 5))
	check := func(angle float64) {
		w, p := F(math.Abs(math.Cos(angle))), F(math.Sin(angle))
		want := math.Atan2(float64(p), float64(w))
		half := []F{quarter(p, w, sqrt(F(w*w)+F(p*p)))}
		atan(half)
		// The library's own 1.37 units in the last place, and the rounding of
		// n, which moves the tangent by as much at most.
		require.InDelta(t, want, float64(half[0]), (bound+3*eps)*math.Abs(want)+1e-300, "%v", angle)
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
