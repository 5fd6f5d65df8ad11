package sweep_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// The roll of the shortest arc at the angle theta from rest is -tan(theta/2) a
// radian of sideways motion, right-handed about the axis, and none along
// meridians (derived: S = R_z(phi) R_y(theta) R_z(-phi) turns by phi' (z - d)).
func TestPlainRoll(t *testing.T) {
	axis := r3.Unit(r3.Vec{X: 1, Y: -2, Z: 0.5})
	u, _ := swing.Perpendicular(axis)
	w := centred(t, axis, axis)
	for _, c := range []struct{ degrees, rate float64 }{
		{30, 0.267949}, {60, 0.577350}, {90, 1}, {120, 1.732051}, {150, 3.732051}, {170, 11.430052},
	} {
		theta := c.degrees * degree
		for _, phi := range []float64{0, 1, 4} {
			d := polar(axis, u, theta, phi)
			sideways := r3.Unit(r3.Cross(axis, d))
			roll, ok := w.Roll(d)
			require.True(t, ok)
			require.InDelta(t, -c.rate, r3.Dot(roll, sideways), rollTolerance, "%g degrees", c.degrees)
			require.InDelta(t, 0, r3.Dot(roll, r3.Cross(d, sideways)), rollTolerance, "along the meridian at %g degrees", c.degrees)
			require.InDelta(t, math.Tan(theta/2), w.Rate(d), rollTolerance, "%g degrees", c.degrees)
			require.InDelta(t, 0, r3.Dot(roll, d), component*c.rate, "across the direction")
		}
	}
	requireDirection(t, r3.Vec{}, must(w.Roll(axis)), stepTolerance, "at rest")
}

func must(v r3.Vec, ok bool) r3.Vec {
	if !ok {
		return r3.Vec{X: math.NaN()}
	}
	return v
}

// By way of a centre the rate is tan(angle/2) at an angle from the centre, up to
// what Step says of its own error; and a step sideways rolls by the solid angle
// of the triangle it makes with the centre, 4 atan(tan(angle/2) tan(step/4)).
func propertyCentredRate(t *rapid.T) {
	axis, centre, d := drawUnit(t, "axis"), drawUnit(t, "centre"), drawUnit(t, "d")
	sideways := r3.Cross(centre, d)
	if r3.Norm(r3.Add(axis, centre)) < 0.1 || r3.Norm(sideways) < 0.02 {
		return
	}
	sideways = r3.Unit(sideways)
	tan := math.Tan(math.Atan2(r3.Norm(r3.Sub(d, centre)), r3.Norm(r3.Add(d, centre))))
	w := centred(t, axis, centre)
	require.InDelta(t, tan, w.Rate(d), stepTolerance*math.Hypot(1, tan)+(tan+tan*tan*tan)*sweep.Step*sweep.Step/12)
	for _, step := range []float64{2 * sweep.Step, 0.1, 1} {
		sin, cos := math.Sincos(step / 2)
		rolled, ok := w.Between(r3.Sub(r3.Scale(cos, d), r3.Scale(sin, sideways)), r3.Add(r3.Scale(cos, d), r3.Scale(sin, sideways)))
		require.True(t, ok)
		requireAngle(t, -4*math.Atan(tan*math.Tan(step/4)), rolled, 32*0x1p-52*math.Hypot(1, tan))
	}
}

func TestCentredRate(t *testing.T) { rapid.Check(t, propertyCentredRate) }
func FuzzCentredRate(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyCentredRate)) }

// Roll is linear in the direction of motion: the vector gives the roll of any
// small step.
func propertyRollIsVector(t *rapid.T) {
	joint := rapid.SampledFrom(joints).Draw(t, "joint")
	field := rapid.SampledFrom(fields).Draw(t, "field")
	w := swingsOf(t, allSolvers()[joint.name][field].left)
	d, phi := drawUnit(t, "d"), drawAngle(t, "phi", math.Pi)
	rate := w.Rate(d)
	if !(rate <= 20) { // NaN too
		return
	}
	u, _ := swing.Perpendicular(d)
	v := r3.Add(r3.Scale(math.Cos(phi), u), r3.Scale(math.Sin(phi), r3.Cross(d, u)))
	const step = 2 * sweep.Step // errs by four times as much, 3e-7 at a rate of 20
	sin, cos := math.Sincos(step)
	rolled, ok := w.Between(r3.Sub(r3.Scale(cos, d), r3.Scale(sin, v)), r3.Add(r3.Scale(cos, d), r3.Scale(sin, v)))
	require.True(t, ok)
	roll, ok := w.Roll(d)
	require.True(t, ok)
	require.InDelta(t, r3.Dot(roll, v), rolled/(2*step), rollTolerance)
}

func TestRollIsVector(t *testing.T) { rapid.Check(t, propertyRollIsVector) }
func FuzzRollIsVector(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyRollIsVector)) }

func TestUndefinedRoll(t *testing.T) {
	w := centred(t, down, down)
	up := r3.Vec{Y: 1}
	require.Equal(t, up, w.Singular())
	_, ok := w.At(up)
	require.False(t, ok)
	roll, ok := w.Roll(up)
	require.True(t, !ok && math.IsNaN(roll.X) && math.IsNaN(roll.Y) && math.IsNaN(roll.Z))
	require.True(t, math.IsNaN(w.Rate(up)))
	require.True(t, math.IsNaN(w.Rate(r3.Vec{})))
	require.True(t, math.IsNaN(w.Rate(r3.Vec{X: math.NaN()})))
	_, ok = w.At(r3.Vec{})
	require.False(t, ok)
	q, ok := w.At(r3.Vec{X: math.NaN()})
	require.True(t, quat.IsNaN(q) && !ok)
	_, ok = w.Between(down, up)
	require.False(t, ok)
}

// Towards the singular direction the rate goes on growing as 2 over the
// distance, and does not fold over where a step would reach across.
func TestRollNextToSingular(t *testing.T) {
	w := centred(t, down, down)
	for _, gap := range []float64{1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 2e-9} {
		sin, cos := math.Sincos(gap)
		require.InEpsilon(t, 1/math.Tan(gap/2), w.Rate(r3.Vec{X: sin, Y: cos}), 1e-3, "%g", gap)
	}
	require.True(t, math.IsNaN(w.Rate(r3.Vec{X: 1e-10, Y: 1})))
}

// Each field has one singular direction, round which it winds twice (the
// sphere's Euler number), and is smooth elsewhere.
func TestWinding(t *testing.T) {
	for _, j := range joints {
		for _, field := range fields {
			w := swingsOf(t, allSolvers()[j.name][field].left)
			require.Equal(t, 2, w.Winding(w.Singular()), "%s, field %d", j.name, field)
			for _, d := range []r3.Vec{down, forward, left, r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3}), r3.Unit(r3.Add(w.Singular(), r3.Vec{X: 0.01}))} {
				require.Zero(t, w.Winding(d), "%s, field %d, at %v", j.name, field, d)
			}
		}
	}
}

func TestSwingsNeedASegment(t *testing.T) {
	forearm, err := chain.NewSolver(chain.Limb{Twist: chain.Tip})
	require.NoError(t, err)
	_, err = sweep.NewSwings(forearm)
	require.EqualError(t, err, "sweep: every segment takes twist, expected one with a share of 0, which shows the swing")

	// Which segment it is does not matter.
	last, err := chain.NewSolver(chain.Limb{Shares: []float64{1, 0.5, 0}})
	require.NoError(t, err)
	first, err := chain.NewSolver(chain.Limb{Shares: []float64{0, 1}})
	require.NoError(t, err)
	d := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	one, _ := swingsOf(t, last).At(d)
	other, _ := swingsOf(t, first).At(d)
	require.Equal(t, other, one)
}

func TestRollDoesNotAllocate(t *testing.T) {
	w := swingsOf(t, allSolvers()["hip"][chain.LeastRoll].left)
	d := r3.Unit(r3.Vec{X: 1, Y: -2, Z: 3})
	require.Zero(t, testing.AllocsPerRun(100, func() { w.Rate(d); w.Winding(d) }))
}
