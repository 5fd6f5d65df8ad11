package swing_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestAimTable(t *testing.T) {
	h := math.Sqrt(0.5)
	turned := twist.About(axisZ, 90*degree) // carries x to y
	for _, c := range []struct {
		name         string
		q            quat.Number
		axis, target r3.Vec
		want         quat.Number
		determined   bool
	}{
		{"already there", turned, axisX, axisY, turned, true},
		{"from the identity it is the arc", one, axisX, axisY, turned, true},
		{"back to where it was", turned, axisX, axisX, one, true},
		{"roll is kept", turned, axisZ, axisY, quat.Mul(twist.About(axisX, -90*degree), turned), true},
		{"any lengths", quat.Scale(1e200, turned), r3.Vec{X: 1e-300}, r3.Vec{X: 7}, one, true},
		{"sign kept", quat.Scale(-1, turned), axisX, axisX, quat.Scale(-1, one), true},
		{"away from the target", one, axisX, r3.Vec{X: -1}, quat.Number{Kmag: 1}, false},
		{"zero axis", quat.Scale(2, turned), r3.Vec{}, axisX, turned, false},
		{"zero target", turned, axisX, r3.Vec{}, turned, false},
		{"zero rotation", quat.Number{}, axisX, axisY, quat.Number{Real: h, Kmag: h}, false},
		{"all zero", quat.Number{}, r3.Vec{}, r3.Vec{}, one, false},
	} {
		got, determined := swing.Aim(c.q, c.axis, c.target)
		require.Equal(t, c.determined, determined, c.name)
		require.LessOrEqual(t, quat.Abs(quat.Sub(c.want, got)), componentTolerance, "%s: %v", c.name, got)
		inner, determined := swing.AimIn(one, c.q, c.axis, c.target)
		require.Equal(t, c.determined, determined, c.name)
		require.Equal(t, got, inner, "%s, below the identity", c.name)
	}
}

func TestAimNotFinite(t *testing.T) {
	for _, bad := range []float64{nan, inf, -inf} {
		badQ, badV := quat.Number{Jmag: bad}, r3.Vec{Z: bad}
		for _, q := range []quat.Number{one, {}, badQ} {
			for _, axis := range []r3.Vec{axisX, {}, badV} {
				for _, target := range []r3.Vec{axisY, {}, badV} {
					if q.Jmag == 0 && axis.Z == 0 && target.Z == 0 {
						continue // the bad one is in none of them
					}
					got, determined := swing.Aim(q, axis, target)
					require.False(t, determined)
					require.True(t, quat.IsNaN(got), "%v %v %v", q, axis, target)
					got, determined = swing.AimIn(one, q, axis, target)
					require.False(t, determined)
					require.True(t, quat.IsNaN(got))
				}
			}
		}
		got, determined := swing.AimIn(badQ, one, axisX, axisY)
		require.False(t, determined)
		require.True(t, quat.IsNaN(got))
	}
}

// TestAimInFormula: the aim constraint of VRMC_node_constraint 1.0 (open
// standard, the extension's README), P⁻¹ · arc · P · local.
func TestAimInFormula(t *testing.T) {
	parent := twist.About(axisZ, 90*degree)
	local := twist.About(axisX, 30*degree)
	target := r3.Vec{X: 1, Y: 2, Z: 2}
	got, determined := swing.AimIn(parent, local, axisY, target)
	require.True(t, determined)
	const printedTolerance = 6e-13 // half a unit of the twelfth decimal, and rounding
	requireRotation(t, quat.Number{Real: 0.564874882638, Imag: 0.684246991182, Jmag: 0.119372108544, Kmag: -0.445502774094}, got, printedTolerance)
	arc := mustArc(t, rotate(quat.Mul(parent, local), axisY), target)
	want := quat.Mul(quat.Mul(quat.Conj(parent), arc), quat.Mul(parent, local))
	requireRotation(t, want, got, componentTolerance)
}

// TestAimInParentDoesNotMatter: at an opposite target the half turn is the same
// in every parent's frame.
func TestAimInParentDoesNotMatter(t *testing.T) {
	want, determined := swing.AimIn(one, one, axisY, r3.Vec{Y: -1})
	require.False(t, determined)
	for _, parent := range []quat.Number{{Imag: 1}, {Jmag: 1}, {Kmag: 1}, {Real: 0.5, Imag: 0.5, Jmag: 0.5, Kmag: 0.5}} {
		got, determined := swing.AimIn(parent, one, axisY, rotate(parent, r3.Vec{Y: -1}))
		require.False(t, determined)
		require.Equal(t, want, got)
	}
	got, determined := swing.AimIn(quat.Number{}, one, axisX, axisY)
	require.False(t, determined, "a zero parent counts as the identity")
	requireRotation(t, mustArc(t, axisX, axisY), got, componentTolerance)
}

// TestOrderMatters: aimed after the follow the axis is on the target; followed
// after the aim it is not.
func TestOrderMatters(t *testing.T) {
	follow := twist.About(axisX, 50*degree)
	target := r3.Vec{X: 1, Y: 1, Z: 1}
	right, _ := swing.Aim(follow, axisY, target)
	require.Less(t, between(rotate(right, axisY), target), angleTolerance)
	aimed, _ := swing.Aim(one, axisY, target)
	wrong := quat.Mul(follow, aimed)
	require.Greater(t, between(rotate(wrong, axisY), target), 10*degree)
}
