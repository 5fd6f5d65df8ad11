package kernel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestTwist(t *testing.T) {
	plain := NewSwing(plainField(r3.Vec{Y: 1}))
	for _, c := range []struct {
		name    string
		q       quat.Number
		half    float64
		defined bool
	}{
		{"identity", quat.Number{Real: 1}, 0, true},
		{"minus identity", quat.Number{Real: -1}, 0, true},
		{"quarter turn", quat.Number{Real: 1, Jmag: 1}, math.Pi / 4, true},
		{"half turn", quat.Number{Jmag: 1}, math.Pi / 2, true},
		{"half turn, other sign", quat.Number{Jmag: -1}, math.Pi / 2, true},
		{"half turn, negative zero", quat.Number{Real: math.Copysign(0, -1), Jmag: -1}, math.Pi / 2, true},
		{"half-turn swing", quat.Number{Imag: 1}, 0, false},
		{"zero", quat.Number{}, 0, false},
		{"subnormal", quat.Number{Real: 5e-324, Jmag: 5e-324}, math.Pi / 4, true},
		{"huge", quat.Number{Real: 1e308, Jmag: 1e308}, math.Pi / 4, true},
	} {
		var got Twist
		plain.Twist(&got, c.q)
		require.Equal(t, c.defined, got.Defined, c.name)
		require.InDelta(t, c.half, got.Half, 1e-15, c.name)
		require.InDelta(t, math.Sin(c.half), got.Sin, 1e-15, c.name)
		require.InDelta(t, math.Cos(c.half), got.Cos, 1e-15, c.name)
		require.True(t, got.Condition >= 0 && got.Condition <= 1, c.name)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		var got Twist
		plain.Twist(&got, quat.Number{Real: 1, Kmag: bad})
		require.True(t, math.IsNaN(got.Half) && math.IsNaN(got.Condition) && !got.Defined)
	}
}
