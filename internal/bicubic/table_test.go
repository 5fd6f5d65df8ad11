package bicubic

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The uniform cubic B-spline is 1/6, 2/3, 1/6 on the knots, and 1/48, 23/48, 23/48,
// 1/48 half-way (de Boor 1978, A Practical Guide to Splines; from memory, and worked out
// from the convolution of four boxes).
func TestCubicOnKnotsAndHalfWay(t *testing.T) {
	for at, want := range map[float64][4]float64{
		0:   {1. / 6, 2. / 3, 1. / 6, 0},
		0.5: {1. / 48, 23. / 48, 23. / 48, 1. / 48},
		1:   {0, 1. / 6, 2. / 3, 1. / 6},
	} {
		var got [4]float64
		got[0], got[1], got[2], got[3] = Cubic(at)
		for i := range got {
			require.InDelta(t, want[i], got[i], 0x1p-52, "%v", at)
		}
	}
}

// A table of coefficients x + 2y, in cells, is that plane: B-splines reproduce
// linear functions, each about its own knot.
func TestPlaneInBothPrecisions(t *testing.T) {
	const nx, ny = 6, 5
	coef := make([]float32, (nx+3)*(ny+3))
	for j := range ny + 3 {
		for i := range nx + 3 {
			coef[j*(nx+3)+i] = float32(i-1) + 2*float32(j-1)
		}
	}
	double := Table[float64]{X: -1, Y: 2, PerStep: 4, NX: nx, NY: ny, Coef: coef}
	single := Table[float32]{X: -1, Y: 2, PerStep: 4, NX: nx, NY: ny, Coef: coef}
	for u := 0.; u < nx; u += 0.23 {
		for v := 0.; v < ny; v += 0.31 {
			x, y := -1+u/4, 2+v/4
			require.InDelta(t, u+2*v, double.At(x, y), 1e-13)
			require.InDelta(t, u+2*v, float64(single.At(float32(x), float32(y))), 1e-4)
		}
	}
	for _, p := range [][2]float64{{-1.01, 2.5}, {0.51, 2.5}, {0, 1.99}, {0, 3.26}, {math.NaN(), 2.5}, {0, math.NaN()}, {math.Inf(1), 2.5}} {
		require.Zero(t, double.At(p[0], p[1]), "%v", p)
		require.Zero(t, single.At(float32(p[0]), float32(p[1])), "%v", p)
	}
}
