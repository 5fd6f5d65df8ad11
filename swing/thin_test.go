package swing_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A long strip of half the width w rolls tan w at its edge (the torsion function
// of a band on the sphere, derived). Down to a fifteenth of its length it does; a
// thinner one is refused, and not solved wrongly.
func TestBestOverStrips(t *testing.T) {
	strip := func(half float64) (*swing.Field, error) {
		region, err := swing.LonLat(axisX, axisY, axisZ, [2]float64{0, 150 * degree}, [2]float64{-half, half})
		require.NoError(t, err)
		return swing.LeastRoll(axisX, onStrip(75*degree, 0), region, swing.Knots)
	}
	for _, half := range []float64{20 * degree, 10 * degree, 7 * degree} {
		f, err := strip(half)
		require.NoError(t, err)
		require.InEpsilon(t, math.Tan(half), rollAt(t, f, onStrip(75*degree, half)), 0.015, "%v", half)
	}
	for _, half := range []float64{3 * degree, 1 * degree, 0.1 * degree} {
		_, err := strip(half)
		require.ErrorContains(t, err, "too thin")
	}
}

func onStrip(lon, lat float64) r3.Vec {
	return r3.Vec{X: math.Cos(lat) * math.Cos(lon), Y: math.Cos(lat) * math.Sin(lon), Z: math.Sin(lat)}
}
