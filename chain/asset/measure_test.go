package asset

import (
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// The twists and conditions of many poses are those that the limb's own solver tells of
// one: plain, centred, over a range, and with a tip.
func TestMeasureIsTheSolvers(t *testing.T) {
	hip := chain.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})
	for name, spec := range map[string]chain.Limb{
		"plain":   {Segments: 3},
		"centred": {Segments: 4, Axis: r3.Vec{X: 1, Y: 2}, Centre: chain.Centre{Mode: chain.Given, Direction: r3.Vec{X: 1, Z: 1}}},
		"best":    {Segments: 4, Axis: r3.Vec{Y: -1}, Range: hip, Centre: chain.Centre{Mode: chain.Auto}},
		"tip":     {Segments: 3, Twist: chain.Tip},
		"shares":  {Shares: []float64{0.2, 0.7}, TipShares: []float64{0.1, 0.9}, Twist: chain.Tip},
	} {
		solver, err := chain.NewSolver(spec)
		require.NoError(t, err, name)
		var m measure
		require.NoError(t, m.setMeasure(spec), name)
		r := rand.New(rand.NewPCG(9, 10))
		joints, tips := make([]quat.Number, 300), make([]quat.Number, 300)
		for i := range joints {
			for _, q := range []*quat.Number{&joints[i], &tips[i]} {
				*q = unit(quat.Number{Real: r.NormFloat64(), Imag: r.NormFloat64(), Jmag: r.NormFloat64(), Kmag: r.NormFloat64()})
			}
		}
		twists := make([]float64, 2*len(joints))
		m.solve(twists, joints, tips)
		angles := make([]float64, solver.Segments())
		for i := range joints {
			want := solver.Angles(angles, joints[i], tips[i])
			require.InDelta(t, want.Twist, -twists[2*i], 1e-14, name)
			require.InDelta(t, want.Condition, m.own.of(&joints[i]), 1e-14, name)
			if spec.Twist == chain.Tip {
				require.InDelta(t, want.TipTwist, twists[2*i+1], 1e-14, name)
				require.InDelta(t, want.TipCondition, m.tip.of(&tips[i]), 1e-14, name)
			}
		}
	}
}
