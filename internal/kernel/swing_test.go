package kernel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestTwist(t *testing.T) {
	t.Run("float64", func(t *testing.T) { testTwist[float64](t, 5e-324, 1e308, 1e-15) })
	t.Run("float32", func(t *testing.T) { testTwist[float32](t, 1e-45, 3e38, 2e-7) })
}

func testTwist[F Real](t *testing.T, least, most, tolerance float64) {
	plain := NewSwing[F](plainField(r3.Vec{Y: 1}))
	for _, c := range []struct {
		name       string
		w, x, y, z float64
		half       float64
		defined    bool
	}{
		{name: "identity", w: 1, defined: true},
		{name: "minus identity", w: -1, defined: true},
		{name: "quarter turn", w: 1, y: 1, half: math.Pi / 4, defined: true},
		{name: "half turn", y: 1, half: math.Pi / 2, defined: true},
		{name: "half turn, other sign", y: -1, half: math.Pi / 2, defined: true},
		{name: "half turn, negative zero", w: math.Copysign(0, -1), y: -1, half: math.Pi / 2, defined: true},
		{name: "half-turn swing", x: 1},
		{name: "zero"},
		{name: "subnormal", w: least, y: least, half: math.Pi / 4, defined: true},
		{name: "huge", w: most, y: most, half: math.Pi / 4, defined: true},
	} {
		var got Twist[F]
		plain.Twist(&got, F(c.w), F(c.x), F(c.y), F(c.z))
		require.Equal(t, c.defined, got.Defined, c.name)
		require.InDelta(t, c.half, float64(got.Half), tolerance, c.name)
		require.InDelta(t, math.Sin(c.half), float64(got.Sin), tolerance, c.name)
		require.InDelta(t, math.Cos(c.half), float64(got.Cos), tolerance, c.name)
		require.True(t, got.Condition >= 0 && got.Condition <= 1, c.name)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		var got Twist[F]
		plain.Twist(&got, 1, 0, 0, F(bad))
		require.True(t, got.Half != got.Half && got.Condition != got.Condition && !got.Defined)
	}
}

// In float32 the correction is looked up with float32 places; what that costs,
// next to float64, stays within a few roundings of the place in the plane times the
// slope, which is below 2 here.
func TestBestFieldInFloat32(t *testing.T) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	double, single := NewSwing[float64](bestField(t, axis)), NewSwing[float32](bestField(t, axis))
	for i, q := range poses(20000) {
		var a Twist[float64]
		var b Twist[float32]
		w, x, y, z := float32(q.Real), float32(q.Imag), float32(q.Jmag), float32(q.Kmag)
		double.Twist(&a, float64(w), float64(x), float64(y), float64(z))
		single.Twist(&b, w, x, y, z)
		turn := math.Remainder(2*(a.Half-float64(b.Half)), 2*math.Pi)
		require.LessOrEqual(t, math.Abs(turn), 2*MaxFieldError*0x1p-23/a.Condition, "%d: %v", i, q)
	}
	var rest Twist[float32]
	single.Twist(&rest, 1, 0, 0, 0)
	require.Zero(t, rest.Half)
}
