package skin

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }

// Radius left half way and a quarter of the way between two frames, and volume
// left with weights linear along the tube, for relative twists of 60 to 180
// degrees: worked out from the linear blend of Magnenat-Thalmann, Laperrière &
// Thalmann 1988 and Lewis, Cordner & Fong 2000 (by way of Kavan 2014, SIGGRAPH
// course on skinning), to nine digits.
func TestFactorsPublished(t *testing.T) {
	const digits = 5e-10
	for _, row := range []struct{ degrees, half, quarter, volume float64 }{
		{60, .866025404, .901387819, .833333333},
		{90, .707106781, .790569415, .666666667},
		{120, .5, .661437828, .5},
		{150, .258819045, .547942035, .377991532},
		{180, 0, .5, .333333333},
	} {
		angle := radians(row.degrees)
		require.InDelta(t, row.half, RadiusFactor(0.5, angle), digits, "%v degrees", row.degrees)
		require.InDelta(t, row.quarter, RadiusFactor(0.25, angle), digits)
		require.InDelta(t, row.quarter, RadiusFactor(0.75, angle), digits)
		require.InDelta(t, row.volume, VolumeFactor(angle), digits)
	}
}

// 90 degrees over one to four spans (same sources).
func TestFactorsOverSpans(t *testing.T) {
	const digits = 5e-7
	for i, row := range []struct{ radius, volume float64 }{
		{.707107, .666667}, {.923880, .902369}, {.965926, .955342}, {.980785, .974627},
	} {
		span := radians(90) / float64(i+1)
		require.InDelta(t, row.radius, RadiusFactor(0.5, span), digits)
		require.InDelta(t, row.volume, VolumeFactor(span), digits)
	}
}

// The volume factor is the mean of the squared radius factor over the weights
// along the tube: 1 - (2/3) sin²(angle/2) for linear ones, 1 - (18/35)
// sin²(angle/2) for smoothstep ones (same sources). Simpson's rule is exact for
// the quadratic, and good to 1e-12 on 200 pieces for the smoothstep's sixth
// degree.
func TestVolumeFactorIsMeanSquareRadius(t *testing.T) {
	const pieces = 200
	mean := func(weight func(float64) float64, angle float64) float64 {
		var sum float64
		for i := range pieces + 1 {
			f := RadiusFactor(weight(float64(i)/pieces), angle)
			switch {
			case i == 0 || i == pieces:
				sum += f * f
			case i%2 == 1:
				sum += 4 * f * f
			default:
				sum += 2 * f * f
			}
		}
		return sum / (3 * pieces)
	}
	for _, degrees := range []float64{0, 1, 60, 90, 120, 150, 180, 270} {
		angle := radians(degrees)
		sin := math.Sin(angle / 2)
		linear := mean(func(u float64) float64 { return u }, angle)
		require.InDelta(t, VolumeFactor(angle), linear, 1e-14, "%v degrees", degrees)
		smooth := mean(func(u float64) float64 { return u * u * (3 - 2*u) }, angle)
		require.InDelta(t, 1-sin*sin*18/35, smooth, 1e-8, "%v degrees", degrees)
	}
}

// Radius and angle are modulus and argument of 1-w + w exp(i angle).
func blendIsComplex(t *rapid.T) {
	w := rapid.OneOf(rapid.Float64Range(0, 1), rapid.SampledFrom([]float64{0, 0.5, 1})).Draw(t, "w")
	angle := rapid.OneOf(rapid.Float64Range(-7, 7), rapid.SampledFrom([]float64{0, math.Pi, 1e-9})).Draw(t, "angle")
	blend := complex(1-w, 0) + complex(w, 0)*cmplx.Exp(complex(0, angle))
	require.InDelta(t, cmplx.Abs(blend), RadiusFactor(w, angle), 8*eps)
	if r := cmplx.Abs(blend); r > 1e-3 { // the angle's rounding is divided by the radius
		turned := cmplx.Exp(complex(0, SectionAngle(w, angle))) * complex(r, 0)
		require.InDelta(t, 0, cmplx.Abs(turned-blend), 16*eps)
	}
	require.LessOrEqual(t, RadiusFactor(w, angle), 1+2*eps)
}

func TestBlendIsComplex(t *testing.T) { rapid.Check(t, blendIsComplex) }
func FuzzBlendIsComplex(f *testing.F) { f.Fuzz(rapid.MakeFuzz(blendIsComplex)) }

func TestFactorsSpecial(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	require.True(t, math.IsNaN(RadiusFactor(nan, 1)))
	require.True(t, math.IsNaN(RadiusFactor(0.5, nan)))
	require.True(t, math.IsNaN(RadiusFactor(0.5, inf)))
	require.True(t, math.IsNaN(SectionAngle(nan, 1)))
	require.True(t, math.IsNaN(SectionAngle(0.5, -inf)))
	require.True(t, math.IsNaN(VolumeFactor(nan)))
	require.True(t, math.IsNaN(VolumeFactor(inf)))
	require.Equal(t, 1.0, RadiusFactor(-3, 1), "clamped to the first frame")
	require.Equal(t, 1.0, SectionAngle(7, 1), "clamped to the second")
	// A hair before the collapse what is left is cos(angle/2), not 0.
	require.InEpsilon(t, math.Sin(0.5e-9), RadiusFactor(0.5, math.Pi-1e-9), 1e-6)
}
