package swing_test

import (
	"math"
	"sync"
	"testing"

	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// The hip's range of motion: flexion 120 and extension 30, abduction 45 and
// adduction 30 degrees (AAOS), about the middle of flexion.
var (
	hipFlexion, hipAbduction = [2]float64{-30, 120}, [2]float64{-30, 45}
	hipCentre                = hanging(45*degree, 0)
)

// hip is the best field of the hip, made once.
var hip = sync.OnceValues(func() (*swing.Field, error) {
	region, err := swing.LonLat(down, forward, outward,
		[2]float64{-30 * degree, 120 * degree}, [2]float64{-30 * degree, 45 * degree})
	if err != nil {
		return nil, err
	}
	return swing.LeastRoll(down, hipCentre, region, swing.Knots)
})

func mustField(t testing.TB) func(*swing.Field, error) *swing.Field {
	return func(f *swing.Field, err error) *swing.Field {
		t.Helper()
		require.NoError(t, err)
		return f
	}
}

// threeFields are the plain, the centred and the best one of the hip.
func threeFields(t testing.TB) map[string]*swing.Field {
	return map[string]*swing.Field{
		"plain":   mustField(t)(swing.NewField(down, down)),
		"centred": mustField(t)(swing.NewField(down, hipCentre)),
		"best":    mustField(t)(hip()),
	}
}

// rollAlong measures the roll a radian of motion from d in the direction e, at
// right angles to it: the turn about d of the swing at one end against that at
// the other carried along the arc between them.
func rollAlong(f *swing.Field, d, e r3.Vec) float64 {
	const step = 1e-5 // squared, and eps over it, are below 1e-9
	sin, cos := math.Sincos(step / 2)
	from, to := r3.Sub(r3.Scale(cos, d), r3.Scale(sin, e)), r3.Add(r3.Scale(cos, d), r3.Scale(sin, e))
	return rollBetween(f, from, to) / step
}

// rollBetween is the roll from one direction to a near one, in radians.
func rollBetween(f *swing.Field, from, to r3.Vec) float64 {
	before, _ := f.Swing(from)
	after, _ := f.Swing(to)
	carry, _ := swing.Arc(from, to)
	return about(quat.Mul(after, quat.Conj(quat.Mul(carry, before))), to)
}

// rollAt is the greatest roll a radian of motion from d.
func rollAt(t testing.TB, f *swing.Field, d r3.Vec) float64 {
	u, ok := swing.Perpendicular(d)
	require.True(t, ok)
	return math.Hypot(rollAlong(f, d, u), rollAlong(f, d, r3.Cross(d, u)))
}

func TestFieldIsArcOrCentred(t *testing.T) {
	fields := threeFields(t)
	for i := range 2000 {
		d := polar(math.Pi*float64(i)/2000, 2.4*float64(i))
		arc, ok := swing.Arc(down, d)
		s, determined := fields["plain"].Swing(d)
		require.Zero(t, off(arc, s))
		require.Equal(t, ok, determined)
		centred, ok := swing.Centred(down, hipCentre, d)
		s, determined = fields["centred"].Swing(d)
		require.Equal(t, centred, s)
		require.Equal(t, ok, determined)
		s, _ = fields["best"].Swing(d)
		require.GreaterOrEqual(t, s.Real, 0.)
		require.Zero(t, fields["plain"].Correction(d))
		require.Zero(t, fields["centred"].Correction(d))
	}
	require.False(t, fields["plain"].IsCorrected())
	require.False(t, fields["centred"].IsCorrected())
	require.True(t, fields["best"].IsCorrected())
}

func TestFieldGetters(t *testing.T) {
	axis, centre := r3.Vec{X: 3, Y: 1, Z: -2}, r3.Vec{Y: 1e-200, Z: 5e-200}
	f := mustField(t)(swing.NewField(axis, centre))
	requireVec(t, r3.Unit(axis), f.Axis(), componentTolerance)
	requireVec(t, r3.Vec{Y: 1 / math.Sqrt(26), Z: 5 / math.Sqrt(26)}, f.Centre(), componentTolerance)
	require.Equal(t, mustArc(t, axis, centre), f.Arc())
	x, y := f.Frame()
	requireVec(t, y, r3.Cross(f.Centre(), x), componentTolerance)
	require.InDelta(t, 1, r3.Norm(x), componentTolerance)
	require.InDelta(t, 0, r3.Dot(x, f.Centre()), componentTolerance)
}

// TestFieldAtRest: at the axis every field is exactly the identity.
func TestFieldAtRest(t *testing.T) {
	for name, f := range threeFields(t) {
		for _, d := range []r3.Vec{down, {Y: -0.25}, {Y: -0x1p900}, {Y: -denorm}} {
			s, determined := f.Swing(d)
			require.True(t, determined, name)
			require.Equal(t, one, s, name)
			require.Zero(t, f.Correction(d), name)
		}
	}
}

// TestFieldInputs: zero, NaN and what is opposite the centre.
func TestFieldInputs(t *testing.T) {
	for name, f := range threeFields(t) {
		s, determined := f.Swing(r3.Vec{})
		require.False(t, determined, name)
		require.Equal(t, one, s, name)
		require.True(t, math.IsNaN(f.Correction(r3.Vec{})), name)
		for _, bad := range []r3.Vec{{X: nan, Y: 1}, {Z: inf}} {
			s, determined = f.Swing(bad)
			require.False(t, determined, name)
			require.True(t, quat.IsNaN(s), name)
			require.True(t, math.IsNaN(f.Correction(bad)), name)
			x, y := f.Plane(bad)
			require.True(t, math.IsNaN(x) && math.IsNaN(y), name)
		}
		x, y := f.Plane(r3.Vec{})
		require.True(t, math.IsNaN(x) && math.IsNaN(y), name)
		require.True(t, math.IsNaN(f.CorrectionAt(nan, 0)) && math.IsNaN(f.CorrectionAt(0, nan)), name)

		opposite := r3.Scale(-1, f.Centre())
		s, determined = f.Swing(opposite)
		require.False(t, determined, name)
		require.Less(t, between(rotate(s, down), opposite), componentTolerance, name)
		require.InDelta(t, f.CorrectionAt(inf, inf), f.Correction(opposite), 0, name)
	}
	for _, c := range [][2]r3.Vec{{{}, axisX}, {axisX, {}}, {{X: nan}, axisX}, {axisX, {Y: inf}}} {
		_, err := swing.NewField(c[0], c[1])
		require.ErrorContains(t, err, "expected finite directions of non-zero length")
	}
	_, err := swing.NewField(axisX, r3.Vec{X: -3})
	require.ErrorContains(t, err, "centre is opposite the axis, expected another direction")
}

// anyField draws a field of the axis: plain, centred, or best over a cap.
func anyField(t *rapid.T, axis r3.Vec) *swing.Field {
	centre := draw.Direction().Draw(t, "centre")
	f, err := swing.NewField(axis, centre)
	if err != nil {
		t.Skip("centre opposite the axis")
	}
	if rapid.Bool().Draw(t, "best") {
		near := draw.Near(f.Centre()).Draw(t, "middle")
		region, err := swing.Cap(near, rapid.Float64Range(0.1, 0.8).Draw(t, "radius"))
		if err != nil {
			t.Fatal(err)
		}
		best, err := swing.LeastRoll(axis, centre, region, 4)
		if err != nil {
			t.Skip("the cap reaches too far from the centre")
		}
		return best
	}
	return f
}

// propertyField: the axis is carried to the direction, and to take another
// field of the same axis is to turn about it first.
func propertyField(t *rapid.T) {
	axis := draw.Direction().Draw(t, "axis")
	one, two := anyField(t, axis), anyField(t, axis)
	to := draw.Direction().Draw(t, "to")
	s, determined := one.Swing(to)
	other, also := two.Swing(to)
	if !determined || !also {
		t.Skip("opposite a centre")
	}
	if missed := arrives(s, axis, to); missed > 1e-14 { // three arcs' and two products' errors
		t.Fatalf("misses by %g", missed)
	}
	if s.Real < 0 || other.Real < 0 {
		t.Fatalf("signs of %v and %v", s, other)
	}
	if moved := arrives(quat.Mul(quat.Conj(s), other), axis, axis); moved > 2e-14 {
		t.Fatalf("the fields part by more than a turn about the axis: %g", moved)
	}
}

func TestFields(t *testing.T) { rapid.Check(t, propertyField) }
func FuzzFields(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyField)) }

// TestCorrectionSmooth walks over the hip and beyond, across every knot on the
// way. From step to step the slope changes by the step times a second
// derivative: with half the step by half as much. A jump would stay.
func TestCorrectionSmooth(t *testing.T) {
	f := threeFields(t)["best"]
	jump := func(h float64) (largest float64) {
		for k := range 12 { // circles of latitude at all angles from one of flexion
			at := func(s float64) float64 { return f.Correction(hanging(s, float64(k-5)*14.9*degree)) }
			last, slope := at(-math.Pi), math.NaN()
			for s := -math.Pi + h; s < math.Pi; s += h {
				next := at(s)
				if change := math.Abs((next-last)/h - slope); change > largest {
					largest = change
				}
				last, slope = next, (next-last)/h
			}
		}
		return largest
	}
	const h = 2e-3
	whole, half := jump(h), jump(h/2)
	require.InEpsilon(t, 0.5, half/whole, 0.05)
	require.Greater(t, whole, 1e-4) // rounding is eps/h, 1e-13
}

// TestCorrectionFarOutside: a small range leaves the far side alone.
func TestCorrectionFarOutside(t *testing.T) {
	middle := hanging(20*degree, 5*degree)
	region := mustRegion(t)(swing.Cap(middle, 10*degree))
	f := mustField(t)(swing.LeastRoll(down, hanging(15*degree, 0), region, 8))
	far := f.Correction(r3.Scale(-1, f.Centre()))
	require.NotZero(t, far) // the axis lies near the cap
	for i := range 100 {
		for j := range 72 {
			turn, _ := swing.Arc(axisZ, f.Centre())
			d := rotate(turn, polar((120.1+59.9*float64(i)/100)*degree, float64(5*j)*degree))
			require.InDelta(t, far, f.Correction(d), 0)
		}
	}
}

func TestFieldNoAllocations(t *testing.T) {
	if raceDetector {
		t.Skip("allocations differ under the race detector")
	}
	var sink float64
	for name, f := range threeFields(t) {
		require.Zero(t, testing.AllocsPerRun(100, func() { sinkQuat, _ = f.Swing(towards) }), name)
		require.Zero(t, testing.AllocsPerRun(100, func() { sink += f.Correction(towards) }), name)
	}
	require.False(t, math.IsNaN(sink))
}

func BenchmarkFieldSwing(b *testing.B) {
	for name, f := range threeFields(b) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sinkQuat, _ = f.Swing(hipCentre)
			}
		})
	}
}
