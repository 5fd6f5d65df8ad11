package asset

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// A clip that there is not is told by its number; no clip is the rest pose, and
// any time is some pose.
func TestEvaluatorOfNoClip(t *testing.T) {
	f := leg(t, []any{1, 1, 1}, []float64{1, 2}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{10, 60}})
	e, err := f.Evaluator()
	require.NoError(t, err)
	const message = "asset: Evaluator: clip 1, expected less than 1, the number of clips"
	require.PanicsWithValue(t, message, func() { e.World(1, 0) })
	require.PanicsWithValue(t, message, func() { e.Span(1) })
	first, last := e.Span(-1)
	require.Zero(t, first)
	require.Zero(t, last)
	require.NotEqual(t, e.World(-1, 0), e.World(0, 0))
	for at, same := range map[float64]float64{math.NaN(): 1, math.Inf(-1): 1, math.Inf(1): 2} {
		require.Equal(t, e.World(0, same), e.World(0, at))
	}
}
