package asset

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The packages below have names that nobody who writes a limb file knows.
func TestNoPackageNamesInMessages(t *testing.T) {
	for what, c := range map[string]struct {
		spec LimbSpec
		want string
	}{
		"centre": {
			LimbSpec{Joint: "thigh", End: End{Joint: "shin"}, Centre: Centre{Direction: &[3]float64{0, -2, 0}}},
			`small.glb: limb "thigh": centre: points against the bone, expected a direction less than half a turn from it: its swing would be undefined at rest`,
		},
		"bone": {
			LimbSpec{Joint: "mid", End: End{Joint: "thigh"}},
			`small.glb: limb "mid": end: the bone's end lies on its joint at {0 0 0}, expected a bone with a length`,
		},
		"range": {
			LimbSpec{Joint: "thigh", End: End{Joint: "shin"}, Field: FieldLeastRoll, Range: Range{FlexionDeg: [2]float64{-180, 180}, AbductionDeg: [2]float64{-90, 90}}},
			`small.glb: limb "thigh": range: flexion -180 to 180, abduction -90 to 90 degrees: no least_roll field: the region reaches farther than 170 degrees from the centre`,
		},
	} {
		f := leg(t, []any{1, 1, 1}, []float64{0, 1}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0, 1}})
		_, _, err := Split(f, Options{AsAsked: true, Limbs: []LimbSpec{c.spec}})
		require.ErrorContains(t, err, c.want, what)
	}
}
