package splitter

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestDetectTellsOfWren(t *testing.T) {
	limbs := wren(t).detected(t)
	require.Empty(t, limbs.Warnings)
	require.Len(t, limbs.Limbs, 6)
	got := map[string]limbText{}
	for _, l := range limbs.Limbs {
		got[l.Name] = l
		require.Equal(t, strings.Fields(l.Name)[0], l.Side)
		require.True(t, l.IsSplit)
		require.Contains(t, l.Reason, "most gained at ")
		require.JSONEq(t, `"linear"`, string(l.Shares))
	}
	thigh, forearm := got["left thigh"], got["right forearm"]
	require.Equal(t, "thigh_l", thigh.Joint)
	require.JSONEq(t, `"shin_l"`, string(thigh.End))
	require.JSONEq(t, `"hip"`, string(thigh.Range))
	require.Equal(t, []string{asset.TwistOwn, ""}, []string{thigh.Twist, thigh.Tip})
	// What it is split into is tested against asset.Split.
	require.Equal(t, []string{"", asset.TwistTip, "hand_r"}, []string{forearm.Field, forearm.Twist, forearm.Tip})
	require.JSONEq(t, `"none"`, string(forearm.Range))
}

// Nodes of the source keep their places, and those of segments stand below their
// joints; no clips are left.
func TestSplitTellsItsNodes(t *testing.T) {
	for name, c := range characters(t) {
		limbs := c.detected(t)
		f, said := c.split(t, limbs)
		require.Empty(t, f.Doc.Animations, name)
		for i, n := range c.file.Doc.Nodes {
			require.Equal(t, n.Name, f.Doc.Nodes[i].Name, name)
		}
		seen := map[int]bool{}
		for i, l := range said.Limbs {
			require.Len(t, l.Segments, limbs.Limbs[i].number(t))
			for i, node := range l.Segments {
				require.GreaterOrEqual(t, node, len(c.file.Doc.Nodes))
				require.False(t, seen[node], name)
				seen[node] = true
				require.Contains(t, f.Doc.Nodes[l.Joint].Children, node)
				require.Equal(t, f.Doc.Nodes[l.Joint].Name, strings.Replace(f.Doc.Nodes[node].Name, fmt.Sprintf("_segment%d", i+1), "", 1))
			}
			require.Equal(t, l.Solver.Twist == "tip", l.Tip >= 0)
		}
		require.Len(t, seen, len(f.Doc.Nodes)-len(c.file.Doc.Nodes))
	}
}

// number is the number of segments that a limb is split into.
func (l limbText) number(t *testing.T) int {
	t.Helper()
	n, err := l.segments()
	require.NoError(t, err)
	return cmp.Or(n, asset.DefaultSegments)
}

func TestSplitTellsLengths(t *testing.T) {
	_, said := wren(t).split(t, wren(t).detected(t))
	require.Equal(t, "left thigh", said.Limbs[0].Name)
	// Drillis and Contini (1966): a thigh is 0.245 of the height, and Wren is 1.7 m tall.
	require.InDelta(t, 0.245*1.7, said.Limbs[0].Length, 1e-6)
}

// A turn about bone_axis by sense times the solver's angle is what a split bakes into
// the clips of the same character, also where joints mirror. That the page does turn
// segments so is tested with the page (../test/mirrored.mjs).
func TestSegmentsTurnAsBaked(t *testing.T) {
	const rounding = 1e-6 // of float32 rotations in the file, twice over
	for name, c := range characters(t) {
		limbs := c.detected(t)
		_, said := c.split(t, limbs)
		turn := quat.Exp(quat.Number{Imag: 0.3, Jmag: -0.4, Kmag: 0.2})
		clip := asset.NewClip{Name: "turned", Times: []float64{0}}
		for _, l := range said.Limbs {
			if l.Tip < 0 {
				clip.Joints = append(clip.Joints, asset.JointTurns{Joint: fmt.Sprintf("#%d", l.Joint), FromRest: []quat.Number{turn}})
			}
		}
		source, err := asset.WithoutClips(c.source)
		require.NoError(t, err)
		moving, err := asset.AddClip(source, clip) // from rest, however its nodes stand
		require.NoError(t, err)
		specs, err := limbsOf(textOfLimbs(t, limbs))
		require.NoError(t, err)
		baked, _, err := asset.Split(moving, asset.Options{Limbs: specs, AsAsked: true})
		require.NoError(t, err)
		e, err := baked.Evaluator()
		require.NoError(t, err)
		world := e.World(0, 0)
		infos, err := asset.Resolve(c.file, specs)
		require.NoError(t, err)
		compared := 0
		for i, l := range said.Limbs {
			if l.Tip >= 0 {
				continue
			}
			solver, err := chain.NewSolver(infos[i].Solver)
			require.NoError(t, err)
			angles := make([]float64, solver.Segments())
			solver.Angles(angles, turn, quat.Number{})
			require.Greater(t, math.Abs(angles[0]), 0.05, name)
			axis := r3.Vec{X: l.BoneAxis[0], Y: l.BoneAxis[1], Z: l.BoneAxis[2]}
			for k, node := range l.Segments {
				q := twist.About(axis, l.Sense*angles[k])
				want := mgl64.Quat{W: q.Real, V: mgl64.Vec3{q.Imag, q.Jmag, q.Kmag}}.Mat4().Mat3()
				got := world[l.Joint].Mat3().Inv().Mul3(world[node].Mat3())
				require.Less(t, math.Sqrt(sumOfSquares(got.Sub(want))), rounding, "%s: %s", name, l.Name)
				compared++
			}
		}
		require.GreaterOrEqual(t, compared, 4*2, name)
	}
}

func sumOfSquares(m mgl64.Mat3) (sum float64) {
	for _, x := range m {
		sum += x * x
	}
	return sum
}

// The limb file is one that reads back as the limbs of the page.
func TestLimbFileReadsBack(t *testing.T) {
	for name, c := range characters(t) {
		for _, way := range ways {
			limbs := c.detected(t)
			for i := range limbs.Limbs {
				if limbs.Limbs[i].Twist == asset.TwistOwn {
					way.change(&limbs.Limbs[i])
				}
			}
			sent := textOfLimbs(t, limbs)
			text, err := LimbFile(sent)
			require.NoError(t, err, name)
			got, err := asset.ParseLimbs("limbs.yaml", []byte(text))
			require.NoError(t, err, name)
			want, err := limbsOf(sent)
			require.NoError(t, err)
			require.Len(t, got.Limbs, len(want))
			for i, l := range got.Limbs {
				require.Equal(t, want[i].Joint, l.Joint)
				require.Equal(t, want[i].Segments, l.Segments)
				require.Equal(t, want[i].Shares, l.Shares)
				require.Equal(t, want[i].Range, l.Range)
				require.Equal(t, want[i].Field, l.Field)
				require.Equal(t, want[i].Centre.Direction, l.Centre.Direction)
				require.Equal(t, want[i].Tip, l.Tip)
			}
		}
	}
}
