package asset

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/twist"
	"github.com/qmuntal/gltf"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// An arc about an axis turns by its share of the angle, also where series take over
// from the trigonometry: checked against rotations made by twist.About.
func TestArcTurnsSteadily(t *testing.T) {
	axis := r3.Unit(r3.Vec{X: 1, Y: -2, Z: 0.5})
	for _, angle := range []float64{0, 1e-12, 1e-7, 1e-3, 0.1, 0.35, 0.354, 0.3541, 0.36, 1, 3, math.Pi} {
		from := twist.About(axis, 0.3)
		way := newArc(from, quat.Scale(-1, twist.About(axis, 0.3+angle)))
		require.Equal(t, angle < 0.35405, way.short, "angle %g", angle)
		for _, share := range []float64{0, 0.1, 0.25, 0.5, 0.75, 1} {
			got, want := way.at(share), twist.About(axis, 0.3+share*angle)
			require.InDelta(t, 1, quat.Abs(got), 1e-15)
			require.LessOrEqual(t, turn(got, want), 1e-15, "angle %g, share %g", angle, share)
		}
	}
}

// Going along a track gives what looking each time up gives: at keys, between them and
// beyond the ends, whatever the interpolation.
func TestRotationsGoAlongTheTrack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	k := track{width: 4}
	for i := range 20 {
		k.times = append(k.times, 1+0.1*float64(i)+0.05*r.Float64())
	}
	for range 3 * 20 {
		for range 4 {
			k.values = append(k.values, r.NormFloat64())
		}
	}
	times := []float64{0, 0.5}
	for i, t := range k.times {
		times = append(times, t, t, t+0.01, t+0.02)
		if i%5 == 4 { // and some keys are passed over
			times = times[:len(times)-8]
		}
	}
	times = append(times, 5, 6)
	for _, interpolation := range []gltf.Interpolation{gltf.InterpolationLinear, gltf.InterpolationStep, gltf.InterpolationCubicSpline} {
		k.interpolation = interpolation
		for start := range times {
			got := make([]quat.Number, len(times)-start)
			k.rotations(got, times[start:])
			for i, time := range times[start:] {
				require.LessOrEqual(t, turn(got[i], k.rotation(time)), 1e-14, "%v at %g from %g", interpolation, time, times[start])
			}
		}
	}
}
