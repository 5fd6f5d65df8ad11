package sweep_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func TestMaxGain(t *testing.T) {
	require.InDelta(t, 1/math.Cos(85*degree), sweep.MaxGain, 1e-13)
}

// The bound that MaxGain is made of: no segment turns faster than sqrt(1 +
// max(1, A^2)) times its joint, A being the field's rate there.
func propertyGain(t *rapid.T) {
	joint := rapid.SampledFrom(joints).Draw(t, "joint")
	solver := allSolvers()[joint.name][rapid.SampledFrom(fields).Draw(t, "field")].left
	m := joint.of(down, forward, left)
	q := m.Pose(drawAngle(t, "flexion", math.Pi), drawAngle(t, "abduction", math.Pi/2), drawAngle(t, "rotation", math.Pi))
	const step = 1e-5
	half := r3.Scale(step/2, drawUnit(t, "about"))
	moved := quat.Mul(quat.Exp(quat.Number{Imag: half.X, Jmag: half.Y, Kmag: half.Z}), q)
	now, then := make([]quat.Number, 3), make([]quat.Number, 3)
	first := solver.SolveFromRest(now, q, quat.Number{Real: 1})
	second := solver.SolveFromRest(then, moved, quat.Number{Real: 1})
	if first.Condition < 0.05 || math.Abs(first.Twist-second.Twist) > 3 { // past half a turn the middle one does jump
		return
	}
	rate := swingsOf(t, solver).Rate(rotate(q, down))
	bound := math.Sqrt(1 + max(1, rate*rate))
	for i := range now {
		turned := quat.Mul(quat.Conj(now[i]), then[i])
		gain := 2 * r3.Norm(r3.Vec{X: turned.Imag, Y: turned.Jmag, Z: turned.Kmag}) / step
		// The rate changes by up to (1 + rate^2) a radian.
		require.LessOrEqual(t, gain, bound+step*(1+rate*rate)*10+1e-8, "segment %d", i)
	}
}

func TestGain(t *testing.T) { rapid.Check(t, propertyGain) }
func FuzzGain(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyGain)) }

// Overhead is the direction opposite rest, where the plain field of a shoulder
// has its singularity: flexion 180. It shows whether a place of the grid is
// there or not. A hip has none, nor has a field by way of a centre.
func TestFlips(t *testing.T) {
	for _, j := range joints {
		for _, out := range []r3.Vec{left, right} {
			m := j.of(down, forward, out)
			for _, field := range fields {
				solver := solverOf(t, m, field)
				for _, step := range []float64{2 * degree, 2.7 * degree} {
					flips, err := sweep.Flips(solver, m, 0, step)
					require.NoError(t, err)
					if j.name != "shoulder" || field != chain.Shortest {
						require.Empty(t, flips, "%s, field %d", j.name, field)
						continue
					}
					require.NotEmpty(t, flips)
					for _, flip := range flips {
						require.InDelta(t, math.Pi, flip.At.Flexion, 1e-9)
						require.InDelta(t, 0, flip.At.Abduction, 1e-9)
						require.InDelta(t, math.Pi, flip.Jump, 1e-3)
					}
				}
			}
		}
	}
}

// A turned body's flexion of 180 degrees is one rounding short of it or beyond:
// the flip is there all the same.
func TestFlipsInAnyFrame(t *testing.T) {
	q := quat.Number{Real: 0.1, Imag: 0.7, Jmag: -0.5, Kmag: 0.5}
	m := sweep.Shoulder(rotate(q, down), rotate(q, forward), rotate(q, left))
	for _, field := range fields {
		flips, err := sweep.Flips(solverOf(t, m, field), m, 0, 3*degree)
		require.NoError(t, err)
		require.Equal(t, field == chain.Shortest, len(flips) > 0, "field %d: %v", field, flips)
		for _, flip := range flips {
			require.InDelta(t, math.Pi, flip.At.Flexion, 1e-9)
		}
	}
}

// A place half a degree off the range rolls 229 radians a radian, twenty times
// MaxGain: steep, and no jump.
func TestSteepIsNoFlip(t *testing.T) {
	m := sweep.Shoulder(down, forward, left)
	m.Flexion[1] = 179.5 * degree
	solver := solverOf(t, m, chain.Shortest)
	require.Greater(t, swingsOf(t, solver).Rate(m.Direction(m.Flexion[1], 0)), 20*sweep.MaxGain-1)
	flips, err := sweep.Flips(solver, m, 0, degree)
	require.NoError(t, err)
	require.Empty(t, flips)
}

// Past half a turn of twist a segment between root and end does jump, by what
// its share is of a whole turn: it is found wherever the grid has its lines.
func TestTwistPastHalfATurn(t *testing.T) {
	m := sweep.Hip(down, forward, left)
	solver, err := chain.NewSolver(chain.Limb{Axis: down, Shares: []float64{0, 0.25, 1}})
	require.NoError(t, err)
	for _, step := range []float64{2 * degree, 5 * degree} {
		flips, err := sweep.Flips(solver, m, 175*degree, step)
		require.NoError(t, err)
		require.NotEmpty(t, flips)
		for _, flip := range flips {
			require.Equal(t, 1, flip.Segment)
			require.InDelta(t, math.Pi/2, flip.Jump, 1e-6)
		}
	}
	flips, err := sweep.Flips(solver, m, 90*degree, 2*degree)
	require.NoError(t, err)
	require.Empty(t, flips)
}

func TestFlipsErrors(t *testing.T) {
	m := sweep.Hip(down, forward, left)
	_, err := sweep.Flips(allSolvers()["hip"][chain.Shortest].left, m, 0, -1)
	require.ErrorContains(t, err, "sweep: step is -1")
}

// All that a search allocates it does at its start, but for the flips it finds:
// four times the places, no more allocations than the longer lines and rows.
func TestFlipsAllocateByRow(t *testing.T) {
	m := sweep.Hip(down, forward, left)
	solver := allSolvers()["hip"][chain.LeastRoll].left
	count := func(step float64) float64 {
		return testing.AllocsPerRun(3, func() {
			_, err := sweep.Flips(solver, m, 0, step)
			require.NoError(t, err)
		})
	}
	rows := func(step float64) float64 { return 2 * math.Ceil(75*degree/step+1) }
	require.LessOrEqual(t, count(2*degree), rows(2*degree)+12)
	require.LessOrEqual(t, count(degree), rows(degree)+12)
}
