package asset

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// resolveTwists turns a limb by an angle about its axis for turning, and returns
// what the node that was turned does to the world, and the limb.
func resolveTwists(t *testing.T, f *File, l LimbInfo, angle float64) mgl64.Mat3 {
	t.Helper()
	node, axis := l.Joint, l.TurnAxis
	if l.Tip >= 0 {
		node, axis = l.Tip, l.TipAxis
	}
	require.InDelta(t, 1, r3.Norm(axis), 1e-12)
	turned, err := AddClip(f, NewClip{Name: "turn about", Times: []float64{0}, Joints: []JointTurns{{Joint: fmt.Sprintf("#%d", node), FromRest: []quat.Number{twist.About(axis, angle)}}}})
	require.NoError(t, err)
	e, err := turned.Evaluator()
	require.NoError(t, err)
	return e.World(len(e.clips)-1, 0)[node].Mat3().Mul3(e.World(-1, 0)[node].Mat3().Inv())
}

// requireTwisted checks that a bone points where it did, to 1e-6, and that what is
// beside it does not.
func requireTwisted(t *testing.T, moved mgl64.Mat3, l LimbInfo, about ...any) {
	t.Helper()
	bone := rest.VecToMgl64(r3.Unit(r3.Sub(l.End, l.Root)))
	require.InDelta(t, 0, moved.Mul3x1(bone).Sub(bone).Len(), 1e-6, about...)
	beside := bone.Cross(mgl64.Vec3{0.3, 0.2, 0.9}).Normalize()
	require.Greater(t, moved.Mul3x1(beside).Sub(beside).Len(), 0.2, about...)
}

func TestTurnAxisTwistsTheBone(t *testing.T) {
	if testing.Short() {
		t.Skip("nothing in it runs beside another")
	}
	for name, o := range map[string]fixture.Options{
		"plain": {}, "odd": {Axes: fixture.Odd}, "level": {Axes: fixture.Level}, "mirrored": {Mirrored: true, Axes: fixture.Odd},
		"mirrored matrices": {Mirrored: true, Axes: fixture.Odd, Matrices: true, Posed: true},
		"root":              {Mirrored: true, Axes: fixture.Odd, RootScale: 0.01, RootTurned: true},
	} {
		character, err := fixture.Build(o)
		require.NoError(t, err)
		f, err := Decode(character.Name, character.Data, character.FS())
		require.NoError(t, err)
		limbs, err := Resolve(f, nil)
		require.NoError(t, err)
		tips, inside := 0, 0
		for _, l := range limbs {
			if l.Tip >= 0 {
				tips++
			}
			if r3.Norm(r3.Sub(l.Axis, l.TurnAxis)) > 0.1 {
				inside++
			}
			requireTwisted(t, resolveTwists(t, f, l, 1), l, "%s: %s", name, l.Spec.Name)
		}
		require.NotZero(t, tips)
		// Where the joints themselves mirror, the two axes are not the same.
		require.Equal(t, o.Mirrored, inside > 0, name)
	}
}

// Scales of the joint, the tip and what stands between them, even, uneven and
// mirrored; the sense of the tip's twist is as documented.
func TestTurnAxisOfScaledJoints(t *testing.T) {
	turned := []any{0.5, -0.1, 0.7, 0.5}
	for _, joint := range [][]any{{1, 1, 1}, {1, 2, 3}, {-1, 1, 1}, {2, -1, 1}} {
		for _, between := range [][]any{{1, 1, 1}, {-1, 1, 1}, {1, 0.5, 2}, {-1, -1, -2}} {
			for _, tip := range [][]any{{1, 1, 1}, {1, -1, 1}, {3, 1, 2}} {
				b := &small{}
				b.floats("SCALAR", 1, 0)
				f := b.file(t, members{"nodes": []any{
					members{"name": "arm", "children": []any{1}, "rotation": turned},
					members{"name": "forearm", "children": []any{2}, "rotation": turned, "scale": joint},
					members{"name": "helper", "children": []any{3}, "translation": []any{0.1, 0.2, 0}, "rotation": turned, "scale": between},
					members{"name": "hand", "translation": []any{0.1, 0.1, -0.2}, "rotation": turned, "scale": tip},
				}})
				own := LimbSpec{Name: "own", Joint: "forearm", End: End{Joint: "hand"}, Twist: TwistOwn, Segments: 2, Centre: Centre{Mode: CentreNone}}
				far := own
				far.Name, far.Twist, far.Tip = "far", TwistTip, "hand"
				limbs, err := Resolve(f, []LimbSpec{own, far})
				require.NoError(t, err)
				for _, l := range limbs {
					requireTwisted(t, resolveTwists(t, f, l, 1), l, "joint %v, between %v, tip %v", joint, between, tip)
				}
				// A small turn about the tip's axis, seen from the joint, is one about the
				// bone: the way that TipAxis says.
				e, err := f.Evaluator()
				require.NoError(t, err)
				world, l := e.World(-1, 0), limbs[1]
				inside := world[l.Joint].Mat3().Inv().Mul3(resolveTwists(t, f, l, 1)).Mul3(world[l.Joint].Mat3())
				side := rest.VecToMgl64(l.Axis).Cross(mgl64.Vec3{0.3, 0.2, 0.9})
				sense := rest.VecToMgl64(l.Axis).Dot(side.Cross(inside.Mul3x1(side)))
				mirrors := between[0].(int) < 0
				require.Equal(t, mirrors, sense < 0, "between %v", between)
			}
		}
	}
}

// A scale of 0 between joint and tip leaves the tip's axis nowhere to point.
func TestTipAxisOfFlatJoints(t *testing.T) {
	b := &small{}
	b.floats("SCALAR", 1, 0)
	f := b.file(t, members{"nodes": []any{
		members{"name": "forearm", "children": []any{1}},
		members{"name": "helper", "children": []any{2}, "translation": []any{0, 1, 0}, "scale": []any{1, 0, 1}},
		members{"name": "hand"},
	}})
	limbs, err := Resolve(f, []LimbSpec{{Name: "far", Joint: "forearm", End: End{Joint: "hand"}, Twist: TwistTip, Tip: "hand", Segments: 2}})
	require.NoError(t, err)
	require.Equal(t, r3.Vec{}, limbs[0].TipAxis)
	require.False(t, math.IsNaN(limbs[0].TurnAxis.X))
}
