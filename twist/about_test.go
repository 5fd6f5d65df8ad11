package twist_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func TestAboutTable(t *testing.T) {
	half := math.Sqrt(0.5)
	one := number(1, 0, 0, 0)
	for _, c := range []struct {
		name  string
		axis  r3.Vec
		angle float64
		want  quat.Number
	}{
		{"nothing", axisY, 0, one},
		{"quarter turn", axisY, math.Pi / 2, number(half, 0, half, 0)},
		{"quarter turn back", axisY, -math.Pi / 2, number(half, 0, -half, 0)},
		{"half turn", axisX, math.Pi, number(0, 1, 0, 0)},
		{"whole turn changes the sign", axisX, 2 * math.Pi, number(-1, 0, 0, 0)},
		{"any length", r3.Vec{X: 3, Z: 4}, math.Pi, number(0, 0.6, 0, 0.8)},
		{"huge", r3.Vec{X: 3e300, Z: 4e300}, math.Pi, number(0, 0.6, 0, 0.8)},
		{"largest", r3.Vec{X: math.MaxFloat64}, math.Pi, number(0, 1, 0, 0)},
		{"subnormal", r3.Vec{Z: -denorm}, math.Pi, number(0, 0, 0, -1)},
		{"no axis", r3.Vec{}, 2, one},
	} {
		got := twist.About(c.axis, c.angle)
		d := quat.Sub(c.want, got) // the sign counts
		require.LessOrEqual(t, quat.Abs(d), twist.MaxAboutError, "%s: %v", c.name, got)
	}
}

func TestAboutNotFinite(t *testing.T) {
	for _, bad := range []float64{nan, inf, -inf} {
		require.True(t, quat.IsNaN(twist.About(axisX, bad)))
		require.True(t, quat.IsNaN(twist.About(r3.Vec{}, bad)))
		require.True(t, quat.IsNaN(twist.About(r3.Vec{Y: bad}, 1)))
	}
}

func TestPowerTable(t *testing.T) {
	q := product(twist.About(axisX, 1), twist.About(axisZ, 2)) // swing after twist
	for _, k := range []float64{0, 0.25, 0.5, 1, -1, 3} {
		got, defined := twist.Power(q, axisZ, k)
		require.True(t, defined)
		requireRotation(t, twist.About(axisZ, 2*k), got, componentTolerance, k)
	}
	got, defined := twist.Power(number(0, 1, 0, 0), axisZ, 0.5)
	require.False(t, defined)
	require.Equal(t, number(1, 0, 0, 0), got)
	for _, k := range []float64{nan, inf, -inf, math.MaxFloat64} {
		got, defined := twist.Power(q, axisZ, k)
		require.False(t, defined)
		require.True(t, quat.IsNaN(got))
	}
}

// TestPowerLeavesOutTheSwing: the ramp of a limb, swing times a power of the
// twist, runs from the swing alone to the whole rotation.
func TestPowerLeavesOutTheSwing(t *testing.T) {
	q := number(1, 2, 3, 4)
	parts := mustSplit(t, q, axisY)
	for i, k := range twist.Linear(3) {
		power, _ := twist.Power(q, axisY, k)
		segment := quat.Mul(parts.Swing, power)
		requireVec(t, rotate(unit(q), axisY), rotate(segment, axisY), componentTolerance, "every segment lies along the bone", i)
		angle := mustAngle(t, segment, axisY)
		require.InDelta(t, k*mustAngle(t, q, axisY), angle, angleTolerance)
	}
}

// propertyPower: powers about one axis add up, 1 is the twist, -1 undoes it.
func propertyPower(t *rapid.T) {
	q, axis := draw.Rotation().Draw(t, "q"), draw.Direction().Draw(t, "axis")
	parts, defined := twist.Split(q, axis)
	power := func(k float64) quat.Number {
		p, ok := twist.Power(q, axis, k)
		if ok != defined {
			t.Fatalf("power %v is defined: %v", k, ok)
		}
		return p
	}
	if o := off(power(0), number(1, 0, 0, 0)); o != 0 {
		t.Fatalf("power 0 off by %g", o)
	}
	// Split and Angle each add their own error.
	if o := off(power(1), parts.Twist); o > 2*twist.MaxPartError/max(parts.Condition, twist.MinCondition) {
		t.Fatalf("power 1 off by %g", o)
	}
	j, k := rapid.Float64Range(-2, 2).Draw(t, "j"), rapid.Float64Range(-2, 2).Draw(t, "k")
	// (j+k) angle is at most 4 pi, and half of it is off by a rounding or three.
	if o := off(quat.Mul(power(j), power(k)), power(j+k)); o > 32*0x1p-52 {
		t.Fatalf("powers %v and %v do not add up: off by %g", j, k, o)
	}
}

// propertyAbout compares the rotation about an axis with the oracle.
func propertyAbout(t *rapid.T) {
	axis := draw.Direction().Draw(t, "axis")
	angle := rapid.OneOf(rapid.Float64Range(-7, 7), rapid.Float64Range(-1e6, 1e6)).Draw(t, "angle")
	want := oracle.About(oracle.FromVec(axis), oracle.Float(angle))
	got := oracle.FromQuat(twist.About(axis, angle))
	// The sign counts: it follows the angle.
	o := max(got.W.Sub(want.W).Abs().Float64(), got.V.Sub(want.V).Norm().Float64())
	if o > twist.MaxAboutError {
		t.Fatalf("off by %g", o)
	}
}
