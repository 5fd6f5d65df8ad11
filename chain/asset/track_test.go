package asset

import (
	"math"
	"testing"

	"github.com/pronate/pronate/twist"
	"github.com/qmuntal/gltf"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// glTF 2.0, appendix C.5 (the formula), worked by hand: from 1 to 3 over two
// seconds with out-tangent 2 and in-tangent -1.
func TestCubicSpline(t *testing.T) {
	k := track{
		times: []float64{1, 3}, width: 1, interpolation: gltf.InterpolationCubicSpline,
		values: []float64{99, 1, 2, -1, 3, 99},
	}
	for _, c := range []struct{ t, want float64 }{
		{0, 1}, {1, 1}, {1.5, 1.96875}, {2, 2.75}, {3, 3}, {9, 3},
	} {
		var got [1]float64
		k.blend(got[:], c.t)
		require.Equal(t, c.want, got[0], "at %g", c.t)
	}
}

func TestStepAndLinear(t *testing.T) {
	k := track{times: []float64{1, 2}, width: 1, values: []float64{10, 20}, interpolation: gltf.InterpolationStep}
	for _, c := range []struct{ t, step, linear float64 }{
		{0, 10, 10}, {1, 10, 10}, {1.25, 10, 12.5}, {1.999, 10, 19.99}, {2, 20, 20}, {3, 20, 20},
	} {
		var got [1]float64
		k.interpolation = gltf.InterpolationStep
		k.blend(got[:], c.t)
		require.Equal(t, c.step, got[0])
		k.interpolation = gltf.InterpolationLinear
		k.blend(got[:], c.t)
		require.InDelta(t, c.linear, got[0], 1e-12)
	}
}

// Shoemake 1985 (from memory): equal steps in time are equal angles, ends are
// met, and the short way round is taken whatever the signs.
func TestSlerp(t *testing.T) {
	z := r3.Vec{Z: 1}
	a, b := quat.Number{Real: 1}, twist.About(z, math.Pi/2)
	for _, end := range []quat.Number{b, quat.Scale(-1, b)} {
		got := slerp(a, end, 1./3)
		angle, _ := twist.Angle(got, z)
		require.InDelta(t, math.Pi/6, angle, 1e-15)
	}
	require.InDelta(t, 0, turn(a, slerp(a, b, 0)), 1e-15)
	require.InDelta(t, 0, turn(b, slerp(a, b, 1)), 1e-15)
	near := twist.About(z, 1e-10)
	require.InDelta(t, 5e-11, turn(a, slerp(a, near, 0.5)), 1e-16)
}

func TestKeyTimesAreSortedAndSingle(t *testing.T) {
	got := keyTimes([]*track{{times: []float64{0, 2, 3}}, {times: []float64{1, 2}}})
	require.Equal(t, []float64{0, 1, 2, 3}, got)
}
