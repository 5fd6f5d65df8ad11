package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// lightness is CIE L* of a linear sRGB colour (CIE 15, from memory).
func lightness(c Colour) float64 {
	y := 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
	if y <= 216.0/24389 {
		return y * 24389 / 27
	}
	return 116*math.Cbrt(y) - 16
}

func TestScaleIsEven(t *testing.T) {
	s := NewScale(0.3)
	const steps = 20
	whole := lightness(s.Colour(0)) - lightness(s.Colour(0.3))
	require.Greater(t, whole, 70.0, "the scale spans most of black to white")
	for k := range steps {
		a, b := s.Colour(0.3*float64(k)/steps), s.Colour(0.3*float64(k+1)/steps)
		// The map interpolates in Lab and clips to sRGB: a quarter of a step's play.
		require.InEpsilon(t, whole/steps, lightness(a)-lightness(b), 0.25, "step %d", k)
	}
}

func TestScaleEnds(t *testing.T) {
	s := NewScale(0.3)
	require.Equal(t, s.Colour(0), s.Colour(-1))
	require.Equal(t, s.Colour(0.3), s.Colour(7))
	require.NotEqual(t, s.Colour(0), s.Colour(0.01))
	require.Equal(t, Colour{0.5, 0.5, 0.5}, s.Colour(math.NaN()))
	require.Equal(t, []Colour{s.Colour(0.1), s.Colour(0.2)}, s.Paint([]float64{0.1, 0.2}))
}

// Losses up to the threshold stay pale; past it the colour steps to amber.
func TestScaleFromAThreshold(t *testing.T) {
	s, whole := NewScale(0.6), NewScale(0.6)
	s.From = 0.2
	require.Equal(t, whole.Colour(0), s.Colour(0.2))
	require.Less(t, lightness(s.Colour(0.2001)), lightness(s.Colour(0.2))-10)
	require.Less(t, lightness(s.Colour(0.4)), lightness(s.Colour(0.3)))
	require.Equal(t, whole.Colour(0.6), s.Colour(0.6))
	require.Equal(t, Colour{0.5, 0.5, 0.5}, s.Colour(math.NaN()))
}
