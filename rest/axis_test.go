package rest

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func TestLongAxis(t *testing.T) {
	quarter := turn(r3.Vec{Z: 1}, math.Pi/2)
	tests := []struct {
		name   string
		joint  Frame
		end    r3.Vec
		axis   r3.Vec
		length float64
	}{
		{"at the origin", Frame{}, r3.Vec{Y: 2}, r3.Vec{Y: 1}, 2},
		{"moved", Frame{Position: r3.Vec{X: 1}}, r3.Vec{X: 1, Z: -0.5}, r3.Vec{Z: -1}, 0.5},
		{"turned", Frame{Rotation: quarter}, r3.Vec{X: -3}, r3.Vec{Y: 1}, 3},
		{"turned, -q", Frame{Rotation: quat.Scale(-1, quarter)}, r3.Vec{X: -3}, r3.Vec{Y: 1}, 3},
		{"square overflows", Frame{}, r3.Vec{X: 3e200, Y: 4e200}, r3.Vec{X: 0.6, Y: 0.8}, 5e200},
		{"square underflows", Frame{}, r3.Vec{X: 3e-200, Y: 4e-200}, r3.Vec{X: 0.6, Y: 0.8}, 5e-200},
		{"subnormal", Frame{}, r3.Vec{Z: 5e-324}, r3.Vec{Z: 1}, 5e-324},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			axis, length, err := LongAxis(test.joint, test.end)
			require.NoError(t, err)
			requireVec(t, test.axis, axis, 8*eps)
			require.InDelta(t, test.length, length, 4*eps*test.length)
		})
	}
}

func TestLongAxisErrors(t *testing.T) {
	tests := []struct {
		name  string
		joint Frame
		end   r3.Vec
		want  string
	}{
		{"no length", Frame{Position: r3.Vec{X: 1}}, r3.Vec{X: 1}, "rest: the bone's end lies on its joint at {1 0 0}, expected a bone with a length"},
		{"NaN", Frame{}, r3.Vec{X: math.NaN()}, "rest: long axis from joint {0 0 0} to end {NaN 0 0}, expected finite positions"},
		{"Inf less Inf", Frame{Position: r3.Vec{X: math.Inf(1)}}, r3.Vec{X: math.Inf(1)}, "rest: long axis from joint {+Inf 0 0} to end {+Inf 0 0}, expected finite positions"},
		{"NaN rotation", Frame{Rotation: quat.Number{Imag: math.NaN()}}, r3.Vec{X: 1}, "rest: long axis of a joint with rotation (0+NaNi+0j+0k), expected finite numbers"},
		{"too long", Frame{}, r3.Vec{X: math.MaxFloat64, Y: math.MaxFloat64}, "rest: the bone from {0 0 0} to {1.7976931348623157e+308 1.7976931348623157e+308 0} is too long for a float64"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, _, err := LongAxis(test.joint, test.end)
			require.EqualError(t, err, test.want)
		})
	}
}

// Walking the length along the axis arrives at the end.
func longAxisReachesEnd(t *rapid.T) {
	joint, end := genFrame().Draw(t, "joint"), genVec().Draw(t, "end")
	axis, length, err := LongAxis(joint, end)
	if end == joint.Position {
		require.Error(t, err)
		return
	}
	require.NoError(t, err)
	require.InDelta(t, 1, r3.Norm(axis), 16*eps)
	requireVec(t, end, joint.Point(r3.Scale(length, axis)), frameTolerance)
}

func TestLongAxisReachesEnd(t *testing.T) { rapid.Check(t, longAxisReachesEnd) }
func FuzzLongAxisReachesEnd(f *testing.F) { f.Fuzz(rapid.MakeFuzz(longAxisReachesEnd)) }
