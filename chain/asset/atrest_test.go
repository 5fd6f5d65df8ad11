package asset

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// Nodes that are put at rest stand where the bind pose has them, to the bit in their
// own transforms, and the file is then at rest.
func TestAtRestPutsNodesIntoTheBindPose(t *testing.T) {
	const rounding = 1e-9 // of float64 products down the skeleton, in metres
	for name, o := range posedOptions {
		t.Run(name, func(t *testing.T) {
			f, _ := bindFile(t, o)
			f, err := WithoutClips(f)
			require.NoError(t, err)
			before, err := f.poses()
			require.NoError(t, err)
			require.Contains(t, before.posed, true)
			still, err := AtRest(f)
			require.NoError(t, err)
			require.Len(t, still.Doc.Nodes, len(f.Doc.Nodes))
			after, err := still.poses()
			require.NoError(t, err)
			was, err := f.Evaluator()
			require.NoError(t, err)
			is, err := still.Evaluator()
			require.NoError(t, err)
			want, stands, rest := was.World(Rest, 0), is.World(NodePose, 0), is.World(Rest, 0)
			for i := range want {
				require.Equal(t, before.rest[i].mat4(), after.own[i].mat4(), "node %d", i)
				require.Equal(t, after.own[i].mat4(), after.rest[i].mat4(), "node %d", i)
				for k := range want[i] {
					require.InDelta(t, want[i][k], stands[i][k], rounding*max(1, math.Abs(want[i][k])), "node %d", i)
					require.InDelta(t, want[i][k], rest[i][k], rounding*max(1, math.Abs(want[i][k])), "node %d", i)
				}
			}
			again, err := AtRest(still)
			require.NoError(t, err)
			for i, n := range again.Doc.Nodes {
				require.Equal(t, still.Doc.Nodes[i].Rotation, n.Rotation)
			}
		})
	}
}

func TestAtRestKeepsWhatIsAtRest(t *testing.T) {
	f, _ := bindFile(t, fixture.Options{})
	out, err := AtRest(f)
	require.NoError(t, err)
	require.Same(t, f, out)
}
