package steady_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/internal/steady"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// rounding is a few roundings of numbers of a size near 1.
const rounding = 8 * 0x1p-53

func near(t *rapid.T, want, got r3.Vec) {
	if d := r3.Norm(r3.Sub(got, want)); !(d <= rounding) {
		t.Fatalf("%v, expected %v: off by %g", got, want, d)
	}
}

// TestAsGonum: the operations are gonum's, but for roundings.
func TestAsGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, w, u := draw.Unit().Draw(t, "v"), draw.Unit().Draw(t, "w"), draw.Unit().Draw(t, "u")
		p, q := draw.UnitRotation().Draw(t, "p"), draw.UnitRotation().Draw(t, "q")
		near(t, r3.Cross(v, w), steady.Cross(v, w))
		near(t, r3.Vec{X: r3.Dot(v, w), Y: r3.Norm2(v)}, r3.Vec{X: steady.Dot(v, w), Y: steady.Norm2(v)})
		near(t, r3.Scale(0.3, v), steady.Scale(0.3, v))
		near(t, r3.Scale(1/0.7, v), steady.Over(v, 0.7))
		near(t, r3.Sub(v, r3.Scale(0.3, w)), steady.Less(v, 0.3, w))
		near(t, r3.Add(r3.Scale(0.3, v), r3.Add(r3.Scale(-0.6, w), r3.Scale(0.5, u))), steady.Along(0.3, v, -0.6, w, 0.5, u))
		if d := quat.Abs(quat.Sub(steady.Product(p, q), quat.Mul(p, q))); d > rounding {
			t.Fatalf("a product off by %g", d)
		}
		// The definition, q v q*.
		r := quat.Mul(quat.Mul(q, quat.Number{Imag: v.X, Jmag: v.Y, Kmag: v.Z}), quat.Conj(q))
		near(t, r3.Vec{X: r.Imag, Y: r.Jmag, Z: r.Kmag}, steady.Rotate(q, v))
	})
}

// TestUnit: lengths of all sizes, with the same bits for powers of two.
func TestUnit(t *testing.T) {
	want, k := steady.Unit(r3.Vec{X: 1, Y: 2, Z: -2})
	require.Equal(t, steady.Proper, k)
	require.InDelta(t, 1./3, want.X, rounding)
	require.InDelta(t, 2./3, want.Y, rounding)
	require.Equal(t, -want.Y, want.Z)
	turn := quat.Number{Real: 1, Imag: 1, Jmag: -1, Kmag: 1}
	for _, f := range []float64{0x1p-1074, 0x1p-600, 0x1p600, 0x1p1022} {
		got, k := steady.Unit(r3.Scale(f, r3.Vec{X: 1, Y: 2, Z: -2}))
		require.Equal(t, steady.Proper, k)
		require.Equal(t, want, got)
		q, k := steady.UnitQuat(quat.Scale(f, turn))
		require.Equal(t, steady.Proper, k)
		require.Equal(t, quat.Scale(0.5, turn), q)
	}
	for bad, kind := range map[float64]steady.Kind{0: steady.Zero, math.Inf(1): steady.Improper} {
		_, k = steady.Unit(r3.Vec{Y: bad})
		require.Equal(t, kind, k)
		_, k = steady.UnitQuat(quat.Number{Jmag: bad})
		require.Equal(t, kind, k)
	}
	_, k = steady.Unit(r3.Vec{X: 1, Y: math.NaN()})
	require.Equal(t, steady.Improper, k)
}

func TestHypot(t *testing.T) {
	for _, f := range []float64{0x1p-1074, 0x1p-600, 1, 0x1p600, 0x1p1020} {
		require.Equal(t, 5*f, steady.Hypot(-3*f, 4*f))
	}
	require.Zero(t, steady.Hypot(0, 0))
	require.Equal(t, math.Inf(1), steady.Hypot(math.Inf(-1), 1))
	require.True(t, math.IsNaN(steady.Hypot(1, math.NaN())))
}
