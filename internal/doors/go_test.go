package doors

import (
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

// goBatches solves all poses of a limb at a time, of float64 and of float32.
func goBatches(t *testing.T, ask []limb) (out [][]answers) {
	file, _ := wren(t)
	for _, l := range ask {
		solver, err := chain.NewSolver(l.resolve(t, file).Solver)
		require.NoError(t, err)
		double, single := batch[float64](t, solver, l.Poses), batch[float32](t, solver, l.Poses)
		var gave []answers
		for i := range l.Poses {
			n := 4 * solver.Segments()
			gave = append(gave, gathered(double[n*i:n*i+n], single[n*i:n*i+n]))
		}
		out = append(out, gave)
	}
	return out
}

func batch[F float32 | float64](t *testing.T, solver *chain.Solver, poses []pose) []F {
	joints, tips := inOneRow[F](poses)
	dst := make([]F, 4*solver.Segments()*len(poses))
	from := chain.Rotations[F]{}
	if tips != nil {
		from = chain.Quaternions(tips, 1)
	}
	outcome, err := chain.NewBatch[F](solver).Solve(chain.Quaternions(dst, solver.Segments()), chain.Quaternions(joints, 1), from, len(poses))
	require.NoError(t, err)
	require.Equal(t, chain.Outcome{}, outcome)
	return dst
}

// inOneRow puts the numbers of poses side by side; tips are nil where there are none.
func inOneRow[F float32 | float64](poses []pose) (joints, tips []F) {
	for _, p := range poses {
		for i := range p.Joint {
			joints = append(joints, F(p.Joint[i]))
		}
		if p.Tip != nil {
			for i := range p.Tip {
				tips = append(tips, F(p.Tip[i]))
			}
		}
	}
	return joints, tips
}

// goSingly solves pose by pose.
func goSingly(t *testing.T, ask []limb) (out [][]answers) {
	file, _ := wren(t)
	for _, l := range ask {
		solver, err := chain.NewSolver(l.resolve(t, file).Solver)
		require.NoError(t, err)
		segments := make([]quat.Number, solver.Segments())
		gave := make([]answers, len(l.Poses))
		for i, p := range l.Poses {
			var tip quat.Number
			if p.Tip != nil {
				tip = p.Tip.number()
			}
			solver.Solve(segments, p.Joint.number(), tip)
			for _, q := range segments {
				gave[i].Double = append(gave[i].Double, bitsOf(q))
			}
		}
		out = append(out, gave)
	}
	return out
}
