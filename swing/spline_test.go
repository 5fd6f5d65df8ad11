package swing

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/bicubic"
	"github.com/stretchr/testify/require"
)

// bumpy is a spline with every inner coefficient set, on cells that are no
// power of two.
func bumpy() *spline {
	s := &spline{x: -1.3, y: 0.7, step: 0.3, nx: 9, ny: 8}
	s.coef = make([]float32, (s.nx+3)*(s.ny+3))
	for j := 3; j < s.ny; j++ {
		for i := 3; i < s.nx; i++ {
			s.coef[j*s.stride()+i] = float32(math.Sin(float64(7*i + 13*j*j)))
		}
	}
	return s
}

// TestCubic: B-splines are a partition of unity, and the slopes and bends are
// their derivatives.
func TestCubic(t *testing.T) {
	const h = 1e-4 // squared it is the differences' error
	for u := h; u < 1-h; u += 1. / 64 {
		var b, before, after, slopes, bends [4]float64
		b[0], b[1], b[2], b[3] = bicubic.Cubic(u)
		before[0], before[1], before[2], before[3] = bicubic.Cubic(u - h)
		after[0], after[1], after[2], after[3] = bicubic.Cubic(u + h)
		cubicSlopes(&slopes, u)
		cubicBends(&bends, u)
		require.InDelta(t, 1, b[0]+b[1]+b[2]+b[3], 1e-15)
		for k := range 4 {
			require.Positive(t, b[k])
			require.InDelta(t, (after[k]-before[k])/(2*h), slopes[k], h*h)
			require.InDelta(t, (after[k]-2*b[k]+before[k])/(h*h), bends[k], 1e-7) // eps/h²
		}
	}
}

// TestCubicMeets: what a B-spline is at the end of a cell, it is at the
// beginning of the next, and so are its first two derivatives; beyond its four
// cells it is zero.
func TestCubicMeets(t *testing.T) {
	for name, f := range map[string]func(b *[4]float64, t float64){"value": cubicValues, "slope": cubicSlopes, "bend": cubicBends} {
		var end, begin [4]float64
		f(&end, 1)
		f(&begin, 0)
		require.Zero(t, end[0], name)
		require.Zero(t, begin[3], name)
		for k := range 3 {
			require.InDelta(t, begin[k], end[k+1], 1e-15, name)
		}
	}
}

// TestSplineSmooth: across knots, and across the edge of the box, the slopes
// and the second derivatives from either side agree. A jump of one would show
// whole, where what is left here is h times the next derivative: at most
// 2/step³ times the coefficients for the third.
func TestSplineSmooth(t *testing.T) {
	s := bumpy()
	const h = 1e-4
	third := 16 * s.greatest() / (s.step * s.step * s.step)
	var steepest, most float64
	for k := 0; k <= 2*s.nx; k++ { // knots and the middles of cells
		for l := 0; l <= 2*s.ny; l++ {
			x, y := s.x+s.step*float64(k)/2, s.y+s.step*float64(l)/2
			for _, d := range [][2]float64{{h, 0}, {0, h}, {h, h}} {
				f := func(n float64) float64 { return s.at(x+n*d[0], y+n*d[1]) }
				// Second order, one-sided: exact but for h² times the third derivative.
				left, right := (3*f(0)-4*f(-1)+f(-2))/(2*h), (-3*f(0)+4*f(1)-f(2))/(2*h)
				require.InDelta(t, left, right, 4*h*h*third)
				bendLeft, bendRight := (f(0)-2*f(-1)+f(-2))/(h*h), (f(0)-2*f(1)+f(2))/(h*h)
				require.InDelta(t, bendLeft, bendRight, 4*h*third)
				steepest, most = max(steepest, math.Abs(left)), max(most, math.Abs(bendLeft))
			}
		}
	}
	// The bounds are small next to what they bound.
	require.Greater(t, steepest, 1000*4*h*h*third)
	require.Greater(t, most, 20*4*h*third)
}

// TestSplineOutside: outside its box it is exactly zero.
func TestSplineOutside(t *testing.T) {
	s := bumpy()
	right, top := s.x+s.step*float64(s.nx), s.y+s.step*float64(s.ny)
	x, y := (s.x+right)/2, (s.y+top)/2
	require.NotZero(t, s.at(x, y))
	for _, p := range [][2]float64{
		{s.x, y}, {s.x - 1e-9, y}, {right + 1e-9, y}, {right + 1, y}, {x, s.y}, {x, s.y - 5}, {x, top + 1e-9}, {x, 1e300},
		{math.Inf(1), y}, {x, math.Inf(-1)}, {math.NaN(), y}, {x, math.NaN()},
	} {
		require.Zero(t, s.at(p[0], p[1]), p)
	}
}

func TestSplineBounds(t *testing.T) {
	s := bumpy()
	require.True(t, s.isLevel())
	greatest := s.greatest()
	require.InDelta(t, 1, greatest, 0.02) // of thirty sines
	for x := s.x; x < 2; x += 0.01 {
		for y := s.y; y < 4; y += 0.01 {
			require.LessOrEqual(t, math.Abs(s.at(x, y)), greatest)
		}
	}
	for i := range s.coef {
		x, y := i%s.stride(), i/s.stride()
		if inner := x >= 3 && y >= 3 && x < s.nx && y < s.ny; !inner {
			s.coef[i] = 1e-30
			require.False(t, s.isLevel(), "%d, %d", x, y)
			s.coef[i] = 0
		}
	}
	for i := range s.coef {
		s.coef[i] = 0.25 // all equal: the partition of unity
	}
	require.InDelta(t, 0.25, s.at(0, 2), 1e-16)
}

// cubicValues is cubic as its derivatives are.
func cubicValues(b *[4]float64, t float64) { b[0], b[1], b[2], b[3] = bicubic.Cubic(t) }
