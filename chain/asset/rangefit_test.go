package asset

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

var standingBody = bodyFrame{r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1}}

// sweepOfRange are directions in a grid over limits, in degrees.
func sweepOfRange(frame bodyFrame, flexion, abduction [2]float64) (out []r3.Vec) {
	const steps = 24
	for i := range steps + 1 {
		for k := range steps + 1 {
			at := func(l [2]float64, n int) float64 { return (l[0] + (l[1]-l[0])*float64(n)/steps) * math.Pi / 180 }
			out = append(out, frame.direction(at(flexion, i), at(abduction, k)))
		}
	}
	return out
}

// beyondFit is by how much the directions leave the limits less the margin, in degrees.
func beyondFit(r Range, directions []r3.Vec) (worst float64) {
	for i := range 2 {
		r.FlexionDeg[i] -= fitMargin * float64(2*i-1)
		r.AbductionDeg[i] -= fitMargin * float64(2*i-1)
	}
	motion := r.in(standingBody)
	for _, d := range directions {
		worst = max(worst, motion.Beyond(d)*180/math.Pi)
	}
	return worst
}

// A range that is spread over evenly is found again, turned any way, with the margin.
func TestFitFindsARange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		part := rapid.Float64Range(-1, 1)
		q := quat.Number{Real: 1, Imag: part.Draw(t, "x"), Jmag: part.Draw(t, "y"), Kmag: part.Draw(t, "z")}
		turn := r3.Rotation(quat.Scale(1/quat.Abs(q), q)).Rotate
		frame := bodyFrame{turn(standingBody.down), turn(standingBody.forward), turn(standingBody.out)}
		half := rapid.Float64Range(40, 100).Draw(t, "flexion")
		aside := rapid.Float64Range(1, 25).Draw(t, "abduction")
		middle := rapid.Float64Range(-60, 60).Draw(t, "middle")
		directions := sweepOfRange(frame, [2]float64{middle - half, middle + half}, [2]float64{-aside, aside})
		r, ok := fitRange(directions, standingBody)
		require.True(t, ok)
		const near = 1 // degree: the directions kept for the spread are 2 degrees apart
		require.InDelta(t, half+fitMargin, r.FlexionDeg[1], near)
		require.InDelta(t, -half-fitMargin, r.FlexionDeg[0], near)
		require.InDelta(t, aside+fitMargin, r.AbductionDeg[1], near)
		require.InDelta(t, -aside-fitMargin, r.AbductionDeg[0], near)
		require.InDelta(t, 0, angleBetween(r.in(standingBody).Down, frame.direction(middle*math.Pi/180, 0)), near*math.Pi/180)
		require.InDelta(t, 1, math.Abs(r3.Dot(r.in(standingBody).Out, frame.out)), 1e-3)
		require.LessOrEqual(t, beyondFit(r, directions), 0.1) // to which limits are rounded
		require.NoError(t, r.check())
		_, err := chain.NewSolver(chain.Limb{Axis: r.in(standingBody).Down, Range: r.in(standingBody), Field: chain.LeastRoll})
		require.NoError(t, err)
	})
}

// Any directions that have a range lie in it, and a mirrored character's range is the
// mirrored one.
func TestFitHoldsAndMirrors(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	across := func(v r3.Vec) r3.Vec { v.X = -v.X; return v }
	fitted := 0
	for range 300 {
		at := r3.Unit(r3.Vec{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()})
		var directions, mirrored []r3.Vec
		size := r3.Vec{X: random.Float64(), Y: random.Float64(), Z: random.Float64()}
		for range 50 {
			d := r3.Unit(r3.Add(at, r3.Vec{X: size.X * random.NormFloat64(), Y: size.Y * random.NormFloat64(), Z: size.Z * random.NormFloat64()}))
			directions, mirrored = append(directions, d), append(mirrored, across(d))
		}
		r, ok := fitRange(directions, standingBody)
		body := bodyFrame{across(standingBody.down), across(standingBody.forward), across(standingBody.out)}
		m, same := fitRange(mirrored, body)
		require.Equal(t, ok, same)
		if !ok {
			continue
		}
		fitted++
		wide := r.AbductionDeg == [2]float64{-mostFittedAbduction, mostFittedAbduction} || r.FlexionDeg[1] == mostFittedFlexion || r.AbductionDeg[1] == mostFittedAbduction || r.AbductionDeg[0] == -mostFittedAbduction
		if !wide { // there the margin is cut
			require.LessOrEqual(t, beyondFit(r, directions), 0.1)
		}
		for _, d := range directions {
			require.Zero(t, r.in(standingBody).Beyond(d))
		}
		const rounding = 1e-9
		require.InDeltaSlice(t, r.FlexionDeg[:], m.FlexionDeg[:], 0.1+rounding) // as limits are rounded
		require.InDeltaSlice(t, r.AbductionDeg[:], m.AbductionDeg[:], 0.1+rounding)
		for i, a := range []r3.Vec{r.in(body).Down, r.in(body).Forward, r.in(body).Out} {
			b := []r3.Vec{m.in(body).Down, m.in(body).Forward, m.in(body).Out}[i]
			require.InDelta(t, 0, r3.Norm(r3.Sub(across(a), b)), rounding)
		}
	}
	require.Greater(t, fitted, 100)
}

// How long a clip stays somewhere does not matter, and an order given again has the same
// bits.
func TestFitTakesNoTime(t *testing.T) {
	directions := sweepOfRange(standingBody, [2]float64{-20, 90}, [2]float64{-10, 30})
	want, ok := fitRange(directions, standingBody)
	require.True(t, ok)
	again, _ := fitRange(slices.Clone(directions), standingBody)
	require.Equal(t, want, again)
	var idle []r3.Vec
	for _, d := range directions {
		idle = append(idle, d)
		for range 50 {
			if len(idle) < 2000 {
				idle = append(idle, d)
			}
		}
	}
	got, ok := fitRange(idle, standingBody)
	require.True(t, ok)
	require.Equal(t, want, got)
}

// Directions all round have no range: of a propeller, and of an arm that goes both ways
// past the poles.
func TestFitGivesUp(t *testing.T) {
	for _, limits := range [][2][2]float64{
		{{-180, 175}, {0, 1}}, {{-165, 165}, {-89, 89}}, {{-90, 90}, {-90, 90}},
	} {
		_, ok := fitRange(sweepOfRange(standingBody, limits[0], limits[1]), standingBody)
		require.False(t, ok, limits)
	}
	// What is nearly round has the limits that are left.
	r, ok := fitRange(sweepOfRange(standingBody, [2]float64{-150, 165}, [2]float64{-1, 1}), standingBody)
	require.True(t, ok)
	require.InDeltaSlice(t, []float64{-167.5, 167.5}, r.FlexionDeg[:], 0.5)
}

// Directions that spread alike every way have the body's forward.
func TestFitRound(t *testing.T) {
	var directions []r3.Vec
	for i := range 36 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 18)
		for _, away := range []float64{0, 0.2, 0.4} {
			directions = append(directions, r3.Unit(r3.Vec{X: away * cos, Y: -1, Z: away * sin}))
		}
	}
	r, ok := fitRange(directions, standingBody)
	require.True(t, ok)
	require.InDelta(t, 0, r3.Norm(r3.Sub(r.in(standingBody).Forward, standingBody.forward)), 0.1)
	require.InDelta(t, 1, r.in(standingBody).Out.X, 0.01)
}
