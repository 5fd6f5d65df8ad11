package swing_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

var (
	shoulderFlexion, shoulderAbduction = [2]float64{-60, 180}, [2]float64{-30, 89}
	shoulderCentre                     = hanging(60*degree, 29*degree)
)

// turnedBy is the angle from the shortest arc to a field's swing.
func turnedBy(f *swing.Field, d r3.Vec) float64 {
	s, _ := f.Swing(d)
	arc, _ := swing.Arc(f.Axis(), d)
	return about(quat.Mul(quat.Conj(arc), s), f.Axis())
}

// With a very great lambda the field is the shortest arc, where that is no half
// turn; with a very small one it rolls least.
func TestBalancedLimits(t *testing.T) {
	region := degrees(t, hipFlexion, hipAbduction)
	f := mustField(t)(swing.Balance{Lambda: 1e6, Power: 2}.Field(down, hipCentre, region, swing.Knots))
	_, want := rolls(t, mustField(t)(swing.NewField(down, down)), hipFlexion, hipAbduction, 3)
	_, rms := rolls(t, f, hipFlexion, hipAbduction, 3)
	require.InEpsilon(t, want, rms, 0.01)
	for x := -30.; x <= 120; x += 10 {
		for y := -30.; y <= 45; y += 7.5 {
			require.InDelta(t, 0, turnedBy(f, hanging(x*degree, y*degree)), 0.5*degree)
		}
	}
	f = mustField(t)(swing.Balance{Lambda: 1e-4, Power: 2}.Field(down, hipCentre, region, swing.Knots))
	_, want = rolls(t, mustField(t)(hip()), hipFlexion, hipAbduction, 3)
	_, rms = rolls(t, f, hipFlexion, hipAbduction, 3)
	require.InEpsilon(t, want, rms, 1e-3)
}

// The centre is what the table goes by, and not what is solved.
func TestBalancedCentre(t *testing.T) {
	region := degrees(t, hipFlexion, hipAbduction)
	f := mustField(t)(swing.Balanced(down, hipCentre, region, swing.Knots))
	other := mustField(t)(swing.Balanced(down, hanging(20*degree, 0), region, swing.Knots))
	for x := -30.; x <= 120; x += 10 {
		for y := -30.; y <= 45; y += 7.5 {
			d := hanging(x*degree, y*degree)
			require.InDelta(t, turnedBy(f, d), turnedBy(other, d), 0.1*degree)
		}
	}
}

// propertyBalancedFrame: the balanced field of a turned problem is the turned
// field.
func propertyBalancedFrame(t *rapid.T) {
	region, err := swing.Cap(hipCentre, 1)
	if err != nil {
		t.Fatal(err)
	}
	axis := rotate(mustAny(swing.Arc(hipCentre, draw.Near(hipCentre).Draw(t, "near"))), hipCentre)
	f, err := swing.Balanced(axis, hipCentre, region, 6)
	if err != nil {
		t.Skip(err) // a rest that points away from the range
	}
	g := draw.UnitRotation().Draw(t, "g")
	turned, err := f.Turned(g, rotate(g, axis))
	if err != nil {
		t.Fatal(err)
	}
	if region, err = swing.Cap(rotate(g, hipCentre), 1); err != nil {
		t.Fatal(err)
	}
	solved, err := swing.Balanced(rotate(g, axis), rotate(g, hipCentre), region, 6)
	if err != nil {
		t.Fatal(err)
	}
	for _, edge := range region.Edge()[:20] {
		// A coarse table's cells lie otherwise: 6 knots are good to some degrees.
		if off := math.Remainder(turnedBy(solved, edge)-turnedBy(turned, edge), 2*math.Pi); math.Abs(off) > 6*degree {
			t.Fatalf("at %v off by %g", edge, off)
		}
	}
}

func TestBalancedFrame(t *testing.T) {
	skipUnderRace(t)
	rapid.Check(t, propertyBalancedFrame)
}

// A mirrored field is the field of the mirrored problem, and its table has the
// same bits.
func TestMirroredField(t *testing.T) {
	f := mustField(t)(swing.Balanced(hanging(0, 0.5), shoulderCentre, degrees(t, shoulderFlexion, shoulderAbduction), 8))
	seen, err := f.Mirrored(axisX)
	require.NoError(t, err)
	back, err := seen.Mirrored(axisX)
	require.NoError(t, err)
	require.Equal(t, coefficients(t, f), coefficients(t, back))
	flip := func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.X, Y: v.Y, Z: v.Z} }
	require.Equal(t, flip(f.Axis()), seen.Axis())
	for i := range 500 {
		d := polar(math.Pi*float64(i)/500, 2.4*float64(i))
		require.InDelta(t, -f.Correction(d), seen.Correction(flip(d)), 1e-9)
	}
	_, err = f.Mirrored(r3.Vec{})
	require.Error(t, err)
}

// coefficients are a field file's bytes after its frame and box.
func coefficients(t *testing.T, f *swing.Field) []byte {
	data := fieldFile(t, f)
	return data[5+12*8+4 : len(data)-4]
}

// With its range turned half way round from rest, the shortest arcs go round
// once within it, and lambda leaves no choice: the field is singular there.
func TestBalancedSingular(t *testing.T) {
	region := mustRegion(t)(swing.Cap(r3.Scale(-1, down), 1.2))
	_, err := swing.Balance{Lambda: 1e4, Power: 2}.Field(down, hanging(150*degree, 0), region, 12)
	require.ErrorContains(t, err, "swing: balanced field: the field has a singular point in the region")
}

func TestBalancedErrors(t *testing.T) {
	region := degrees(t, hipFlexion, hipAbduction)
	for _, o := range []swing.Balance{{}, {Lambda: nan, Power: 2}, {Lambda: inf, Power: 2}, {Lambda: -1, Power: 2}, {Lambda: 100, Power: 3}} {
		_, err := o.Field(down, hipCentre, region, 8)
		require.ErrorContains(t, err, "swing: balanced field: lambda is")
	}
	_, err := swing.Balanced(down, hipCentre, swing.Region{}, 8)
	require.ErrorContains(t, err, "swing: balanced field: the region is empty")
	_, err = swing.Balanced(down, hipCentre, region, 3)
	require.ErrorContains(t, err, "3 knots")
}

// Rings are refused, and what nearly closes to one; notches and caps over the
// pole are not.
func TestRings(t *testing.T) {
	for _, c := range []struct {
		flexion, abduction [2]float64
		ring               bool
	}{
		{[2]float64{-180, 180}, [2]float64{-30, 30}, true},
		{[2]float64{-170, 170}, [2]float64{-30, 30}, true},
		{[2]float64{-165, 165}, [2]float64{-30, 30}, true},
		{[2]float64{-160, 160}, [2]float64{-45, 45}, true},
		{[2]float64{-155, 155}, [2]float64{-30, 30}, false},
		{[2]float64{-120, 120}, [2]float64{-30, 30}, false},
		{[2]float64{-180, 180}, [2]float64{30, 90}, false},
	} {
		_, err := swing.LeastRoll(outward, outward, degrees(t, c.flexion, c.abduction), swing.Knots)
		if c.ring {
			require.ErrorContains(t, err, "swing: least-roll field: the region is a ring, or nearly closes to one", "%v", c)
		} else {
			require.NoError(t, err, "%v", c)
		}
	}
	notched := mustRegion(t)(swing.Polygon(hanging(0.8, 1.4), hanging(1.6, 0), hanging(0.8, 0.7), hanging(0, 0)))
	_, err := swing.LeastRoll(down, hanging(0.8, 0.7), notched, 12)
	require.NoError(t, err)
}

func TestZeroFieldIsNotTurned(t *testing.T) {
	var f swing.Field
	_, err := f.Turned(one, axisX)
	require.EqualError(t, err, "swing: field: it is empty, expected one made by NewField, LeastRoll or Balanced")
	_, err = f.Mirrored(axisX)
	require.Error(t, err)
}

func BenchmarkBalanced(b *testing.B) {
	region := degrees(b, shoulderFlexion, shoulderAbduction)
	for b.Loop() {
		mustField(b)(swing.Balanced(down, shoulderCentre, region, swing.Knots))
	}
}
