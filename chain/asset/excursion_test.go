package asset

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// A clip that leaves the range says how far and when; one that does not says
// nothing. The bone is along +Y at rest; +Y is 180 degrees of flexion.
func TestExcursions(t *testing.T) {
	var rotations []float64
	for _, angle := range []float64{-90, -60, -140} { // about X: towards -Z, which is extension
		sin, cos := math.Sincos(angle * math.Pi / 360)
		rotations = append(rotations, sin, 0, 0, cos)
	}
	f := leg(t, []any{1, 1, 1}, []float64{0, 1, 2}, legChannel{node: 2, interpolation: "LINEAR", rotations: rotations})
	options := splitThigh("", 2)
	split := func(flexion [2]float64) []Excursion {
		options.Limbs[0].Range = Range{FlexionDeg: flexion, AbductionDeg: [2]float64{-10, 10}}
		options.Limbs[0].Centre = Centre{}
		_, report, err := Split(f, options)
		require.NoError(t, err)
		return report.Excursions
	}
	// The bone's flexions: 180+90 = -90, -120, -40.
	require.Empty(t, split([2]float64{-180, -39}))
	require.Empty(t, split([2]float64{-180, -40.5}), "half a degree is nothing to tell")
	got := split([2]float64{-180, -50})
	require.Len(t, got, 1)
	require.Equal(t, "turn", got[0].Clip)
	require.Equal(t, "thigh", got[0].Limb)
	require.Equal(t, "thigh", got[0].Joint)
	require.InDelta(t, 10, got[0].BeyondDeg, 1e-3) // float32 keys
	require.InDelta(t, 2, got[0].Time, 1e-6)
	require.InDelta(t, -40, got[0].FlexionDeg, 1e-3)
	require.InDelta(t, 0, got[0].AbductionDeg, 1e-3)
}

// Rest out of the range is told once, as a warning, and a clip only where it
// goes farther out than rest is.
func TestExcursionsBeyondRest(t *testing.T) {
	var rotations []float64
	for _, angle := range []float64{0, 20, -140} { // flexions of 180, 160 and 320 = -40
		sin, cos := math.Sincos(angle * math.Pi / 360)
		rotations = append(rotations, sin, 0, 0, cos)
	}
	f := leg(t, []any{1, 1, 1}, []float64{0, 1, 2}, legChannel{node: 2, interpolation: "LINEAR", rotations: rotations})
	options := splitThigh("", 2)
	options.Limbs[0].Range = Range{FlexionDeg: [2]float64{-60, 150}, AbductionDeg: [2]float64{-10, 10}}
	_, report, err := Split(f, options)
	require.NoError(t, err)
	require.Equal(t, []string{`limb "thigh": at rest the bone is already 30 degrees outside its range; clips are told of that leave it by more`}, report.Warnings)
	require.Len(t, report.Excursions, 1)
	require.InDelta(t, 75, report.Excursions[0].BeyondDeg, 1) // half-way round from 150 to 300; samples need not meet it
	options.Limbs[0].Range.FlexionDeg[1] = 129                // 51 degrees at rest
	f = leg(t, []any{1, 1, 1}, []float64{0, 1}, legChannel{node: 2, interpolation: "LINEAR", rotations: rotations[:8]})
	_, report, err = Split(f, options)
	require.NoError(t, err)
	require.Len(t, report.Warnings, 1)
	require.Empty(t, report.Excursions)
}
