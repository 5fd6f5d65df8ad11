package twist_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// The roll and the rotation constraint of VRMC_node_constraint 1.0 (open
// standard, README of the extension in the vrm-specification repository), its
// pseudocode followed with our split and its values worked out in double
// precision: source at rest turned by 90 degrees about Z, destination by 30
// about X, the source then by 40 about Y and 60 about X.
func TestNodeConstraints(t *testing.T) {
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	const degree = math.Pi / 180
	sourceRest, rest := twist.About(z, 90*degree), twist.About(x, 30*degree)
	change := quat.Mul(twist.About(y, 40*degree), twist.About(x, 60*degree))

	// The change as the destination sees it.
	toRest := quat.Mul(quat.Conj(rest), sourceRest)
	seen := quat.Mul(quat.Mul(toRest, change), quat.Conj(toRest))
	angle, ok := twist.Angle(seen, y)
	require.True(t, ok)
	require.InDelta(t, 43.101184519514, angle/degree, 1e-11)
	for _, c := range []struct {
		weight float64
		want   quat.Number
	}{
		{1, quat.Number{Real: 0.898401413814, Imag: 0.240725933310, Jmag: 0.354806428280, Kmag: 0.095070095927}},
		{0.5, quat.Number{Real: 0.948894575248, Imag: 0.254255535140, Jmag: 0.180587338862, Kmag: 0.048388231611}},
	} {
		roll, ok := twist.Power(seen, y, c.weight)
		require.True(t, ok)
		requireNear(t, c.want, quat.Mul(rest, roll))
	}
	half := quat.Mul(rest, quat.PowReal(change, 0.5))
	requireNear(t, quat.Number{Real: 0.856015794014, Imag: 0.484757997140, Jmag: 0.173454688643, Kmag: -0.046477043745}, half)
}

// requireNear compares with a value printed to twelve places.
func requireNear(t *testing.T, want, got quat.Number) {
	t.Helper()
	const printed = 1e-11
	require.InDelta(t, want.Real, got.Real, printed)
	require.InDelta(t, want.Imag, got.Imag, printed)
	require.InDelta(t, want.Jmag, got.Jmag, printed)
	require.InDelta(t, want.Kmag, got.Kmag, printed)
}
