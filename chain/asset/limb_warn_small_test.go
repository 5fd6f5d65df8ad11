package asset

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A joint that only rolls about the bone, as twist helpers do, bends nothing.
func TestRollingBetweenIsNoBend(t *testing.T) {
	f := leg(t, []any{1, 1, 1}, []float64{0, 1}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0, 90}})
	_, report, err := Split(f, Options{AsAsked: true, Limbs: []LimbSpec{{Joint: "pelvis", End: End{Joint: "shin"}, Anchor: ""}}})
	require.NoError(t, err)
	require.Empty(t, report.Warnings)
}

// Lengths that cannot be metres are told of once.
func TestHeightsThatAreNoMetres(t *testing.T) {
	for scale, want := range map[float64]string{100: "the character is 100 m tall: glTF lengths are metres; read lengths accordingly", 0.1: "the character is 0.1 m tall: ", 1: "", 9: ""} {
		f := leg(t, []any{scale, scale, scale}, []float64{0, 1}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0, 1}})
		_, report, err := Split(f, splitThigh("", 2))
		require.NoError(t, err)
		if want == "" {
			require.Empty(t, report.Warnings)
			continue
		}
		require.Len(t, report.Warnings, 1)
		require.Contains(t, report.Warnings[0], want)
	}
}
