package splitter

import (
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// kept are the limbs that are split where nothing is asked for.
func (l limbsText) kept() (out limbsText) {
	for _, limb := range l.Limbs {
		if limb.IsSplit {
			out.Limbs = append(out.Limbs, limb)
		}
	}
	return out
}

// The page begins with what `pronate split` writes: the same limbs, segments, fields and
// weights.
func TestDetectDecidesAsSplit(t *testing.T) {
	const rounding = 1e-6 // of float32 weights and places in the file
	for name, c := range characters(t) {
		want, report, err := asset.Split(c.source, asset.Options{})
		require.NoError(t, err)
		limbs := c.detected(t)
		require.Len(t, limbs.Limbs, len(report.Choices), name)
		for i, choice := range report.Choices {
			limb := limbs.Limbs[i]
			require.Equal(t, []any{choice.Limb, choice.Split}, []any{limb.Name, limb.IsSplit}, name)
			require.Contains(t, choice.Reason, limb.Reason)
			require.NotEmpty(t, limb.Reason)
			if choice.Split {
				require.Equal(t, choice.Segments, limb.number(t))
				require.Equal(t, choice.Field, limb.Field)
				require.Equal(t, choice.Left, limb.left())
			} else {
				require.JSONEq(t, `"auto"`, string(limb.Segments))
			}
		}
		if len(limbs.kept().Limbs) == 0 {
			continue
		}
		got, said := c.split(t, limbs.kept())
		require.Len(t, said.Limbs, len(report.Limbs))
		require.Len(t, got.Doc.Nodes, len(want.Doc.Nodes), name)
		for i, node := range want.Doc.Nodes {
			require.Equal(t, node.Name, got.Doc.Nodes[i].Name, name)
		}
		a, err := want.Evaluator()
		require.NoError(t, err)
		b, err := got.Evaluator()
		require.NoError(t, err)
		meshA, err := a.Mesh()
		require.NoError(t, err)
		meshB, err := b.Mesh()
		require.NoError(t, err)
		require.Len(t, meshB.Positions, len(meshA.Positions))
		for v, all := range meshA.Influences {
			require.Len(t, meshB.Influences[v], len(all), name)
			for k, x := range all {
				require.Equal(t, x.Joint, meshB.Influences[v][k].Joint, name)
				require.InDelta(t, x.Weight, meshB.Influences[v][k].Weight, rounding, name)
			}
		}
	}
}

func (l limbText) left() []string {
	if l.Exclude == nil {
		return nil
	}
	return l.Exclude.Pieces
}

// Some limb of the characters is split, and some is not: the test above compares both.
func TestSomeLimbsStayUnsplit(t *testing.T) {
	split, unsplit := 0, 0
	for _, c := range characters(t) {
		for _, l := range c.detected(t).Limbs {
			if l.IsSplit {
				split++
			} else {
				unsplit++
			}
		}
	}
	require.Positive(t, split)
	require.Positive(t, unsplit)
}

// The .glb that the page shows is at rest, whatever pose the nodes of the source hold.
func TestDetectPutsAtRest(t *testing.T) {
	const rounding = 1e-9 // of float64 products, in metres
	c := built(t, fixture.Options{PosedIn: "wild", Clips: []string{"wild"}})
	glb, _, err := Detect(c.name, c.data)
	require.NoError(t, err)
	shown, err := asset.Decode("shown.glb", glb, nil)
	require.NoError(t, err)
	require.Empty(t, shown.Doc.Animations)
	was, err := c.source.Evaluator()
	require.NoError(t, err)
	is, err := shown.Evaluator()
	require.NoError(t, err)
	rest, posed, stands := was.World(asset.Rest, 0), was.World(asset.NodePose, 0), is.World(asset.NodePose, 0)
	moved := false
	for i := range rest {
		moved = moved || !rest[i].ApproxEqualThreshold(posed[i], 0.1)
		for k := range rest[i] {
			require.InDelta(t, rest[i][k], stands[i][k], rounding, "node %d", i)
		}
	}
	require.True(t, moved, "the source is posed")
}
