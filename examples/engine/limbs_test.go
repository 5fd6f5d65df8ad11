package engine

import (
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// solverOf is a limb of host/limbs.c.
func solverOf(t *testing.T, limb int) *chain.Solver {
	t.Helper()
	left, arm, far := limb%2 == 0, limb >= 2 && limb < 6, limb >= 4
	frame := rest.Frame{Rotation: quat.Number{Kmag: 1}}
	if arm {
		frame.Rotation = quat.Number{Real: 0.3826834323650898, Kmag: 0.9238795325112867}
		if left {
			frame.Rotation.Kmag = -frame.Rotation.Kmag
		}
	}
	spec := chain.Limb{Axis: r3.Vec{Y: 1}, Segments: segments, JointRest: frame, TipRest: frame}
	if far {
		spec.Twist, spec.AnchorRest = chain.Tip, frame
	} else {
		spec.Field = chain.Balanced
		ranges := chain.Hip
		if arm {
			ranges = chain.Shoulder
		}
		out := r3.Vec{X: -1}
		if left {
			out.X = 1
		}
		spec.Range = ranges(r3.Vec{Y: -1}, r3.Vec{Z: 1}, out)
	}
	solver, err := chain.NewSolver(spec)
	require.NoError(t, err)
	return solver
}

// The hosts expect every pose to have an answer of its own.
func solve(t *testing.T, batch chain.Batch[float32], frame, limb int) []float32 {
	t.Helper()
	joints, tips := fill(uint32(frame), uint32(limb))
	dst := make([]float32, 4*segments*characters)
	outcome, err := batch.Solve(chain.Quaternions(dst, segments), chain.Quaternions(joints, 1), chain.Quaternions(tips, 1), characters)
	require.NoError(t, err)
	require.Equal(t, chain.Outcome{}, outcome)
	return dst
}

// The crowd does what climbers do: thighs and arms stay in range or near it, and
// far out of the way of half a turn.
func TestMotionIsAPersons(t *testing.T) {
	for limb := range limbs {
		solver := solverOf(t, limb)
		condition, beyond, most := 1., 0., 0.
		for frame := range 130 {
			joints, tips := fill(uint32(frame), uint32(limb))
			for i := 0; i < len(joints); i += 4 * 13 {
				q, r := number(joints[i:]), number(tips[i:])
				result := solver.Solve(make([]quat.Number, segments), q, r)
				condition = min(condition, result.Condition, result.TipCondition)
				most = max(most, result.Twist, result.TipTwist)
				if limb < 4 {
					direction := r3.Rotation(quat.Scale(1/quat.Abs(q), q)).Rotate(r3.Vec{Y: 1})
					beyond = max(beyond, solver.Range().Beyond(direction))
				}
			}
		}
		t.Logf("limb %d: condition %.3f, beyond its range %.3f, twist %.3f", limb, condition, beyond, most)
		require.Greater(t, condition, 0.2, "limb %d", limb)
		require.Greater(t, most, 0.4, "limb %d", limb)
		require.Less(t, beyond, 0.5, "limb %d", limb)
	}
}

func number(q []float32) quat.Number {
	return quat.Number{Imag: float64(q[0]), Jmag: float64(q[1]), Kmag: float64(q[2]), Real: float64(q[3])}
}
