package player

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// exact allows for a few roundings of numbers of order one.
const exact = 1e-15

func key(v ...float64) []float64 { return v }

func TestSplineMeetsTheSpecificationsPolynomial(t *testing.T) {
	// glTF 2.0 specification, appendix C.5: from 1 to 3 over two seconds with
	// out-tangent 2 and in-tangent -1. The polynomial's values by hand.
	tr, err := newTrack(0, "translation", "CUBICSPLINE",
		[][]float64{{0}, {2}},
		[][]float64{{9, 9, 9}, {1, 1, 1}, {2, 2, 2}, {-1, -1, -1}, {3, 3, 3}, {9, 9, 9}}, 3)
	require.NoError(t, err)
	for _, c := range []struct{ time, want float64 }{{0, 1}, {0.5, 1.96875}, {1, 2.75}, {2, 3}} {
		require.Equal(t, key(c.want, c.want, c.want), tr.at(c.time), "at %v s", c.time)
	}
}

func TestSlerpMeetsTheSpecification(t *testing.T) {
	// glTF 2.0 specification, appendix C.4, after Shoemake 1985: a third of the
	// way to 90° about z is 30° about z; -q is the same rotation.
	sin, cos := math.Sincos(math.Pi / 4)
	for _, sign := range []float64{1, -1} {
		got := slerp(key(0, 0, 0, 1), key(0, 0, sign*sin, sign*cos), 1.0/3)
		require.InDeltaSlice(t, key(0, 0, math.Sin(math.Pi/12), math.Cos(math.Pi/12)), got, exact)
	}
	q := key(0.5, 0.5, 0.5, 0.5)
	require.InDeltaSlice(t, q, slerp(q, q, 0.3), exact, "no arc")
	tiny := key(1e-9, 0, 0, 1)
	require.InDeltaSlice(t, key(5e-10, 0, 0, 1), slerp(key(0, 0, 0, 1), tiny, 0.5), 1e-24, "an arc below the switch")
}

func TestTracksClampAndStep(t *testing.T) {
	times := [][]float64{{1}, {2}, {4}}
	values := [][]float64{{0, 0, 0}, {10, 0, 0}, {20, 0, 0}}
	for _, c := range []struct {
		interpolation string
		time, want    float64
	}{
		{"LINEAR", 0, 0}, {"LINEAR", 1, 0}, {"LINEAR", 1.25, 2.5}, {"LINEAR", 2, 10}, {"LINEAR", 3, 15}, {"LINEAR", 4, 20}, {"LINEAR", 9, 20},
		{"STEP", 0, 0}, {"STEP", 1.99, 0}, {"STEP", 2, 10}, {"STEP", 3.99, 10}, {"STEP", 4, 20}, {"STEP", 9, 20},
		{"", 3, 15},
	} {
		tr, err := newTrack(0, "translation", c.interpolation, times, values, 3)
		require.NoError(t, err)
		require.InDelta(t, c.want, tr.at(c.time)[0], exact, "%s at %v", c.interpolation, c.time)
	}
}

func TestRotationsComeOutAsUnitQuaternions(t *testing.T) {
	for _, interpolation := range []string{"STEP", "LINEAR", "CUBICSPLINE"} {
		values := [][]float64{{0, 0, 0, 0.99}, {0, 0.72, 0, 0.7}}
		if interpolation == "CUBICSPLINE" {
			zero := key(0, 0, 0, 0)
			values = [][]float64{zero, values[0], zero, zero, values[1], zero}
		}
		tr, err := newTrack(0, "rotation", interpolation, [][]float64{{0}, {1}}, values, 4)
		require.NoError(t, err)
		for _, time := range []float64{0, 0.4, 1} {
			norm := 0.0
			for _, x := range tr.at(time) {
				norm += x * x
			}
			require.InDelta(t, 1, norm, exact, "%s at %v", interpolation, time)
		}
	}
}

func TestTracksRefuseWrongCounts(t *testing.T) {
	// glTF 2.0 specification, section 3.11: as many values as keys, three times
	// as many for CUBICSPLINE; times strictly increasing from zero up.
	one := [][]float64{{0, 0, 0}}
	for name, try := range map[string]func() (track, error){
		"no keys":       func() (track, error) { return newTrack(0, "scale", "", nil, nil, 3) },
		"too few":       func() (track, error) { return newTrack(0, "scale", "", [][]float64{{0}, {1}}, one, 3) },
		"no tangents":   func() (track, error) { return newTrack(0, "scale", "CUBICSPLINE", [][]float64{{0}}, one, 3) },
		"same time":     func() (track, error) { return newTrack(0, "scale", "", [][]float64{{1}, {1}}, append(one, one...), 3) },
		"negative time": func() (track, error) { return newTrack(0, "scale", "", [][]float64{{-1}}, one, 3) },
		"unknown kind":  func() (track, error) { return newTrack(0, "scale", "SMOOTH", [][]float64{{0}}, one, 3) },
	} {
		_, err := try()
		require.Error(t, err, name)
	}
}
