package oracle_test

import (
	"math"
	"math/big"
	"testing"

	"github.com/pronate/pronate/internal/oracle"
	"github.com/stretchr/testify/require"
)

// pi100 is pi to 100 decimals: the On-Line Encyclopedia of Integer Sequences,
// A000796 (from memory).
const pi100 = "3.1415926535897932384626433832795028841971693993751058209749445923078164062862089986280348253421170679"

func TestPi(t *testing.T) {
	want, _, err := big.ParseFloat(pi100, 10, 400, big.ToNearestEven)
	require.NoError(t, err)
	got, _, err := big.ParseFloat(pi100, 10, oracle.Precision, big.ToNearestEven)
	require.NoError(t, err)
	require.Equal(t, 0, got.Cmp(want.SetPrec(oracle.Precision)))
	require.Equal(t, math.Pi, oracle.Pi().Float64())
	// The sine of the float64 nearest to pi is pi less that float64, to the
	// third power of the difference: this checks the next 53 bits.
	require.Equal(t, 1.2246467991473532e-16, oracle.Pi().Sub(oracle.Float(math.Pi)).Float64())
}

// TestCorrectlyRounded holds the functions to values computed once with 4200
// bits and rounded to the nearest float64.
func TestCorrectlyRounded(t *testing.T) {
	f := oracle.Float
	for _, c := range []struct {
		name string
		got  oracle.Real
		want float64
	}{
		{"sin 0.5", oracle.Sin(f(0.5)), 0.479425538604203},
		{"cos 0.5", oracle.Cos(f(0.5)), 0.8775825618903728},
		{"sin 22", oracle.Sin(f(22)), -0.008851309290403876},
		{"cos 11", oracle.Cos(f(11)), 0.004425697988050785},
		{"sin 1e22", oracle.Sin(f(1e22)), -0.8522008497671888},
		{"atan2(1,3)", oracle.Atan2(f(1), f(3)), 0.3217505543966422},
		{"sin of the float64 pi", oracle.Sin(f(math.Pi)), 1.2246467991473532e-16},
		{"sin -22", oracle.Sin(f(-22)), 0.008851309290403876},
		{"sin 0", oracle.Sin(f(0)), 0},
		{"cos 0", oracle.Cos(f(0)), 1},
		{"sin of the least subnormal", oracle.Sin(f(5e-324)), 5e-324},
	} {
		require.Equal(t, c.want, c.got.Float64(), c.name)
	}
}

func TestAtan2Quadrants(t *testing.T) {
	f := oracle.Float
	for _, c := range []struct{ y, x, want float64 }{
		{0, 1, 0}, {0, -1, math.Pi}, {1, 0, math.Pi / 2}, {-1, 0, -math.Pi / 2}, {0, 0, 0},
		{1, 1, math.Pi / 4}, {1, -1, 3 * math.Pi / 4}, {-1, -1, -3 * math.Pi / 4}, {-1, 1, -math.Pi / 4},
		{5e-324, 1e300, 0}, {1e-300, -1, math.Pi}, {-1e-300, -1, -math.Pi},
	} {
		require.Equal(t, c.want, oracle.Atan2(f(c.y), f(c.x)).Float64(), "atan2(%v, %v)", c.y, c.x)
	}
}

// TestInverse checks that atan2 undoes sine and cosine to nearly all bits, far
// beyond what the fixed values above can see.
func TestInverse(t *testing.T) {
	const tolerance = 0x1p-250 // Precision less a few roundings
	for _, x := range []float64{-3.14, -2, -1.6, -1.5, -1, -1e-9, 1e-30, 0.1, 0.7, 0.8, 1.5, 1.6, 2.5, 3.1415} {
		r := oracle.Float(x)
		back := oracle.Atan2(oracle.Sin(r), oracle.Cos(r))
		require.Less(t, back.Sub(r).Abs().Float64(), tolerance, "%v", x)
	}
}

// TestAgainstMath compares with Go's math package, which is good to 2 units in
// the last place, over several octaves and signs.
func TestAgainstMath(t *testing.T) {
	for i := range 400 {
		x := math.Ldexp(float64(i*37%101)-50, i%20-10)
		r := oracle.Float(x)
		require.InDelta(t, math.Sin(x), oracle.Sin(r).Float64(), 4e-16, "sin %v", x)
		require.InDelta(t, math.Cos(x), oracle.Cos(r).Float64(), 4e-16, "cos %v", x)
		y := float64(i*53%103) - 51
		require.InDelta(t, math.Atan2(y, x), oracle.Atan2(oracle.Float(y), r).Float64(), 1e-15, "atan2 %v %v", y, x)
	}
}
