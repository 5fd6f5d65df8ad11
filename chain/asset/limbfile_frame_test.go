package asset

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// frameGenerator draws directions at right angles of any lengths and handedness.
func frameGenerator() *rapid.Generator[RangeFrame] {
	return rapid.Custom(func(t *rapid.T) (f RangeFrame) {
		part := rapid.Float64Range(0.1, 1)
		q := quat.Number{Real: part.Draw(t, "w"), Imag: part.Draw(t, "x"), Jmag: part.Draw(t, "y"), Kmag: part.Draw(t, "z")}
		hand := rapid.SampledFrom([]float64{1, -1}).Draw(t, "hand")
		for i, to := range []*[3]float64{&f.Down, &f.Forward, &f.Out} {
			axis := []r3.Vec{{X: 1}, {Y: 1}, {Z: hand}}[i]
			v := r3.Scale(rapid.Float64Range(1e-9, 1e9).Draw(t, "length"), r3.Rotation(quat.Scale(1/quat.Abs(q), q)).Rotate(axis))
			*to = [3]float64{v.X, v.Y, v.Z}
		}
		return f
	})
}

// Directions are made square: unit, at right angles, of the handedness that they have,
// and no farther from what was given than that was from square. Square ones stay as they
// are to the bit.
func TestRangeFrameSquare(t *testing.T) {
	const rounding = 1e-12
	rapid.Check(t, func(t *rapid.T) {
		f := frameGenerator().Draw(t, "frame")
		skew := rapid.Float64Range(-slackFrame/2, slackFrame/2).Draw(t, "skew")
		for i := range f.Forward {
			f.Forward[i] += skew * f.Down[i] * math.Sqrt(norm2(f.Forward)/norm2(f.Down))
		}
		_, err := f.check()
		require.NoError(t, err)
		b := f.square()
		for i, v := range []r3.Vec{b.down, b.forward, b.out} {
			require.InDelta(t, 1, r3.Norm(v), rounding)
			w := []r3.Vec{b.forward, b.out, b.down}[i]
			require.InDelta(t, 0, r3.Dot(v, w), rounding)
			given := f.directions()[i]
			require.InDelta(t, 0, r3.Norm(r3.Sub(v, r3.Unit(r3.Vec{X: given[0], Y: given[1], Z: given[2]}))), slackFrame)
		}
		again := frameOf(b)
		require.Equal(t, b, again.square())
	})
}

func norm2(v [3]float64) float64 { return v[0]*v[0] + v[1]*v[1] + v[2]*v[2] }

func TestRangeFrameErrors(t *testing.T) {
	for want, r := range map[string]Range{
		"has down that is [0, 0, 0], expected three finite numbers, not all 0": {FlexionDeg: [2]float64{0, 1}, AbductionDeg: [2]float64{0, 1}, Frame: RangeFrame{Out: [3]float64{1}}},
		"has forward that is 45 degrees from down, expected a right angle":     {FlexionDeg: [2]float64{0, 1}, AbductionDeg: [2]float64{0, 1}, Frame: RangeFrame{[3]float64{1}, [3]float64{1, 1}, [3]float64{0, 0, 1}}},
		"is both a name and directions, expected one of them":                  {Name: RangeHip, Frame: RangeFrame{[3]float64{1}, [3]float64{0, 1}, [3]float64{0, 0, 1}}},
		"has flexion_deg [0, 0], expected the least before the greatest":       {Frame: RangeFrame{[3]float64{1}, [3]float64{0, 1}, [3]float64{0, 0, 1}}},
	} {
		require.ErrorContains(t, r.check(), want)
	}
}
