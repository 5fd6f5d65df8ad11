package chain_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

const degree = math.Pi / 180

var (
	down    = r3.Vec{Y: -1}
	forward = r3.Vec{Z: 1}
	left    = r3.Vec{X: 1}
)

func TestDirection(t *testing.T) {
	hip := chain.Hip(down, forward, left)
	for _, c := range []struct {
		flexion, abduction float64
		want               r3.Vec
	}{
		{0, 0, down}, {90, 0, forward}, {0, 90, left}, {-90, 0, r3.Vec{Z: -1}}, {180, 0, r3.Vec{Y: 1}},
	} {
		got := hip.Direction(c.flexion*degree, c.abduction*degree)
		require.InDelta(t, 0, r3.Norm(r3.Sub(c.want, got)), 1e-15)
	}
}

// worstAngle is the farthest that the range goes from a direction, by brute
// force over the whole of it and not only its edge.
func worstAngle(r chain.Range, from r3.Vec) (worst float64) {
	for i := range 61 {
		for j := range 61 {
			d := r.Direction(r.Flexion[0]+float64(i)/60*(r.Flexion[1]-r.Flexion[0]), r.Abduction[0]+float64(j)/60*(r.Abduction[1]-r.Abduction[0]))
			worst = max(worst, 2*math.Atan2(r3.Norm(r3.Sub(d, from)), r3.Norm(r3.Add(d, from))))
		}
	}
	return worst
}

// A hip's worst roll rate falls from tan(120/2 degrees) = 1.73 to 0.82 by way
// of 45 degrees of flexion (derived; tan(theta/2) is the roll of the shortest
// arc at angle theta from its base direction).
func TestHipMiddle(t *testing.T) {
	hip := chain.Hip(down, forward, left)
	require.InDelta(t, math.Sqrt(3), math.Tan(worstAngle(hip, down)/2), 1e-12)
	middle := hip.Middle()
	require.InDelta(t, 45*degree, math.Atan2(r3.Dot(middle, forward), r3.Dot(middle, down)), 2*degree)
	require.InDelta(t, 0.82, math.Tan(worstAngle(hip, middle)/2), 0.01)
}

// No direction nearby does better than the middle.
func TestMiddleIsBest(t *testing.T) {
	for name, r := range map[string]chain.Range{
		"hip": chain.Hip(down, forward, left), "shoulder": chain.Shoulder(down, forward, left),
		"thin": {Flexion: [2]float64{-0.2, 1}, Down: down, Forward: forward, Out: left},
	} {
		middle := r.Middle()
		best := worstAngle(r, middle)
		for i := range 36 {
			for _, step := range []float64{0.5 * degree, 3 * degree} {
				side := r3.Unit(r3.Cross(middle, r3.Vec{X: 0.3, Y: 0.5, Z: 0.7}))
				turn := r3.NewRotation(float64(i)*10*degree, middle).Rotate(side)
				other := r3.Unit(r3.Add(r3.Scale(math.Cos(step), middle), r3.Scale(math.Sin(step), turn)))
				require.GreaterOrEqual(t, worstAngle(r, other), best-0.05*degree, name)
			}
		}
	}
}

// Left and right are mirror images.
func TestMiddleMirrors(t *testing.T) {
	l := chain.Shoulder(down, forward, left).Middle()
	r := chain.Shoulder(down, forward, r3.Scale(-1, left)).Middle()
	require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: -l.X, Y: l.Y, Z: l.Z}, r)), 1e-12)
}

func TestAutoTakesTheMiddle(t *testing.T) {
	hip := chain.Hip(down, forward, left)
	s := solver(t, chain.Limb{Axis: down, Range: hip})
	require.InDelta(t, 0, r3.Norm(r3.Sub(hip.Middle(), s.Centre())), 1e-15)
	plain := solver(t, chain.Limb{Axis: down, Range: hip, Centre: chain.Centre{Mode: chain.None}})
	require.Equal(t, plain.Axis(), plain.Centre())
}

// A range's middle lies on its axis of symmetry to the last bit.
func TestMiddleIsSymmetric(t *testing.T) {
	for _, limits := range [][2]float64{{40, 30}, {100, 45}, {20, 80}, {90, 10}} {
		r := chain.Range{
			Flexion: [2]float64{-limits[0] * degree, limits[0] * degree}, Abduction: [2]float64{-limits[1] * degree, limits[1] * degree},
			Down: down, Forward: forward, Out: left,
		}
		require.Equal(t, down, r.Middle(), "%v", limits)
	}
	hip := chain.Hip(down, forward, left)
	flexion, _ := hip.Angles(hip.Middle())
	require.InDelta(t, 45*degree, flexion, 1e-15)
}
