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

// A turned field is the field seen in another frame: conjugated where its axis
// turns along, and that but for one turn about the axis where it does not.
func TestTurned(t *testing.T) {
	region, err := swing.LonLat(axisX, axisY, axisZ, [2]float64{-0.5, 2}, [2]float64{-0.5, 0.8})
	require.NoError(t, err)
	best, err := swing.LeastRoll(axisX, r3.Vec{X: 1, Y: 1}, region, 8)
	require.NoError(t, err)
	plain, err := swing.NewField(axisX, axisX)
	require.NoError(t, err)
	for _, field := range []*swing.Field{best, plain} {
		rapid.Check(t, func(t *rapid.T) {
			q := draw.UnitRotation().Draw(t, "turn")
			to := draw.Unit().Draw(t, "to")
			turned, err := field.Turned(q, rotate(q, axisX))
			require.NoError(t, err)
			want, determined := field.Swing(to)
			got, _ := turned.Swing(rotate(q, to))
			if !determined || r3.Norm(r3.Add(to, field.Centre())) < 1e-2 {
				return // next to the singular direction roundings are magnified
			}
			require.LessOrEqual(t, off(quat.Mul(quat.Mul(q, want), quat.Conj(q)), got), 1e-12)

			other, err := field.Turned(quat.Number{Real: 1}, r3.Vec{X: 1, Y: 0.5, Z: 0.2})
			require.NoError(t, err)
			rest, _ := other.Swing(other.Axis())
			require.Equal(t, one, rest)
			// From place to place both roll alike: they differ by one turn about
			// the axis, the same everywhere.
			d := r3.Unit(r3.Vec{X: 1, Y: 0.4, Z: 0.1})
			if r3.Norm(r3.Add(to, d)) > 1e-2 {
				require.InDelta(t, 0, math.Remainder(rollBetween(field, to, d)-rollBetween(other, to, d), 2*math.Pi), 1e-11)
			}
		})
	}
	_, err = best.Turned(quat.Number{}, axisX)
	require.Error(t, err)
	_, err = best.Turned(one, r3.Scale(-1, best.Centre()))
	require.ErrorContains(t, err, "opposite")
}
