package swing_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestPlane: the stereographic projection keeps angles, and a direction's
// distance is tan(θ/2) in the direction that it has from the centre.
func TestPlane(t *testing.T) {
	for _, centre := range []r3.Vec{down, hipCentre, {X: 1, Y: 2, Z: -5}} {
		f := mustField(t)(swing.NewField(down, centre))
		ex, ey := f.Frame()
		at := func(theta, phi float64) r3.Vec {
			p := polar(theta, phi)
			return r3.Add(r3.Scale(p.Z, f.Centre()), r3.Add(r3.Scale(p.X, ex), r3.Scale(p.Y, ey)))
		}
		for theta := 0.05; theta < 3.1; theta += 0.1 {
			for phi := 0.3; phi < 6.28; phi += 0.5 {
				x, y := f.Plane(r3.Scale(3, at(theta, phi)))
				r := math.Tan(theta / 2)
				require.InDelta(t, 0, math.Hypot(x-r*math.Cos(phi), y-r*math.Sin(phi))/(1+r*r), 1e-14)
				// Along the meridian and across it: the same scale, at right angles.
				const h = 1e-4
				x0, y0 := f.Plane(at(theta-h, phi))
				x1, y1 := f.Plane(at(theta+h, phi))
				x2, y2 := f.Plane(at(theta, phi-h/math.Sin(theta)))
				x3, y3 := f.Plane(at(theta, phi+h/math.Sin(theta)))
				scale := (1 + r*r) / 2 * 2 * h
				require.InDelta(t, 0, math.Hypot((x3-x2)+(y1-y0), (y3-y2)-(x1-x0))/scale, 2e-5) // h² over the squared distance to a pole
				require.InDelta(t, 1, math.Hypot(x1-x0, y1-y0)/scale, 2e-5)
			}
		}
		x, y := f.Plane(centre)
		require.InDelta(t, 0, math.Hypot(x, y), 1e-15)
	}
}

// TestPlaneOpposite: opposite the centre, however it rounds, is far away and
// not at the origin, so that the correction levels off there.
func TestPlaneOpposite(t *testing.T) {
	for i := range 2000 {
		centre := polar(math.Pi*float64(i)/2000, float64(i)*0.7)
		f := mustField(t)(swing.NewField(polar(math.Pi*float64(i)/2000, 1+float64(i)*0.7), centre))
		x, y := f.Plane(r3.Scale(-1, f.Centre()))
		require.Greater(t, math.Hypot(x, y), 1e14)
	}
	f := mustField(t)(swing.NewField(axisX, axisX))
	x, y := f.Plane(r3.Vec{X: -1, Y: 1e-170})
	require.InEpsilon(t, 2e170, math.Hypot(x, y), 1e-12)
	x, y = f.Plane(r3.Vec{X: -1})
	require.Equal(t, []float64{inf, inf}, []float64{x, y})
}
