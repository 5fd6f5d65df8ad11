package swing_test

import (
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestCentredTable(t *testing.T) {
	down, forward := r3.Vec{Y: -1}, axisZ
	lift := twist.About(axisX, -90*degree) // carries down to forward
	for _, c := range []struct {
		name             string
		axis, centre, to r3.Vec
		want             quat.Number
		determined       bool
	}{
		{"rest", down, forward, down, one, true},
		{"rest, another length", down, forward, r3.Vec{Y: -4}, one, true},
		{"at the centre", down, forward, forward, lift, true},
		{"plain", down, down, forward, lift, true},
		{"overhead by way of the front", down, forward, axisY, twist.About(axisX, -180*degree), true},
		{"opposite the centre", down, forward, r3.Vec{Z: -1}, quat.Mul(quat.Number{Jmag: 1}, lift), false},
		{"centre opposite the axis", down, axisY, axisX, quat.Mul(mustArc(t, axisY, axisX), quat.Number{Kmag: 1}), false},
		{"centre opposite the axis, at rest", down, axisY, down, one, false},
		{"zero axis", r3.Vec{}, forward, down, one, false},
		{"zero centre", down, r3.Vec{}, forward, one, false},
		{"zero to", down, forward, r3.Vec{}, one, false},
	} {
		got, determined := swing.Centred(c.axis, c.centre, c.to)
		require.Equal(t, c.determined, determined, c.name)
		requireRotation(t, c.want, got, componentTolerance, c.name)
		require.GreaterOrEqual(t, got.Real, 0.0, c.name)
	}
	for i := range 3 {
		v := [3]r3.Vec{down, forward, axisX}
		v[i].X = nan
		got, determined := swing.Centred(v[0], v[1], v[2])
		require.False(t, determined)
		require.True(t, quat.IsNaN(got))
	}
}

// TestCentredStandsStraightUp: straight overhead the plain field of a hanging
// arm depends on the way up, the field re-centred in front does not (derived).
func TestCentredStandsStraightUp(t *testing.T) {
	down := r3.Vec{Y: -1}
	const near = 1e-6
	front, side := r3.Vec{Y: 1, Z: near}, r3.Vec{X: near, Y: 1}
	gap := func(field func(to r3.Vec) quat.Number) float64 {
		return angleOf(quat.Mul(field(front), quat.Conj(field(side))))
	}
	plain := gap(func(to r3.Vec) quat.Number { return mustArc(t, down, to) })
	require.Greater(t, plain, 170*degree)
	centred := gap(func(to r3.Vec) quat.Number {
		s, determined := swing.Centred(down, axisZ, to)
		require.True(t, determined)
		return s
	})
	require.Less(t, centred, 10*near)
}
