package asset_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/player"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// liveTolerance is what the segments' quaternions may differ by from the solver's:
// coordinates of the file are float32, some 1e-7 of a bone's length off.
const liveTolerance = 1e-6

// Constraints turn the segments as the solver does, by the player, which works them
// out by the standard's own words.
func TestLiveTurnsAsTheSolver(t *testing.T) {
	if testing.Short() {
		t.Skip("nothing in it runs beside another")
	}
	for name, c := range map[string]struct {
		options fixture.Options
		field   string
		centre  asset.Centre
		nearest bool
	}{
		"plain":                     {field: asset.FieldShortest, centre: asset.Centre{Mode: asset.CentreNone}},
		"plain, odd axes":           {options: fixture.Options{Axes: fixture.Odd, RootTurned: true, RootScale: 0.01}, field: asset.FieldShortest, centre: asset.Centre{Mode: asset.CentreNone}},
		"centred on the range":      {options: fixture.Options{Axes: fixture.Level}, field: asset.FieldCentred},
		"centred, odd axes":         {options: fixture.Options{Axes: fixture.Odd, RootTurned: true}, field: asset.FieldCentred},
		"by a given centre":         {options: fixture.Options{Axes: fixture.Odd}, centre: asset.Centre{Direction: &[3]float64{0.3, -0.5, 0.8}}},
		"nearest to the best field": {field: asset.FieldLeastRoll, nearest: true},
	} {
		t.Run(name, func(t *testing.T) {
			stem := "live-" + strings.NewReplacer(" ", "-", ",", "").Replace(name)
			c.options.Stem = stem
			character, err := fixture.Build(c.options)
			require.NoError(t, err)
			source, err := asset.Decode(character.Name, character.Data, character.FS())
			require.NoError(t, err)
			fixture.KeepCharacter(t, character)
			detected, err := asset.Detect(source)
			require.NoError(t, err)
			for i := range detected.Limbs {
				l := &detected.Limbs[i]
				l.Segments = 2 + i
				if l.Twist != asset.TwistTip {
					l.Field, l.Centre = c.field, c.centre
				}
			}
			compareLive(t, stem, source, asset.Options{AsAsked: true, Limbs: detected.Limbs, Live: asset.LiveBesideClips, Nearest: c.nearest})
		})
	}
}

// livePose is a moment that another implementation of the standard is to find alike.
type livePose struct {
	Rotations map[string][4]float64 `json:"rotations"` // of joints, x, y, z, w
	Segments  map[string][4]float64 `json:"segments"`  // the solver's
}

// compareLive splits a character with live constraints and poses it at random.
func compareLive(t *testing.T, stem string, source *asset.File, options asset.Options) {
	t.Helper()
	split, report, err := asset.Split(source, options)
	require.NoError(t, err)
	encoded, err := split.Encode(true, false)
	require.NoError(t, err)
	scene, err := player.Load(encoded)
	require.NoError(t, err)
	for i := range options.Limbs { // as the report says that they were taken
		if n := report.Limbs[i].Live.Nearest; n != nil {
			options.Limbs[i].Field, options.Limbs[i].Centre = asset.FieldCentred, asset.Centre{Direction: &n.Centre}
		}
	}
	limbs, err := asset.Resolve(source, options.Limbs)
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(1, 2))
	rest := scene.Turned(nil).Constrained()
	restVertices := restOf(t, source)
	for i, v := range rest.Vertices() {
		require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: v[0], Y: v[1], Z: v[2]}, restVertices[i])), 1e-5*scene.Height(), "vertex %d at rest", i)
	}
	worst := 0.0
	var kept []livePose
	for range 40 {
		told := livePose{map[string][4]float64{}, map[string][4]float64{}}
		now := map[int]quat.Number{} // local rotations
		for _, l := range limbs {
			for _, node := range []int{l.Anchor, l.Joint, l.Tip} {
				if node < 0 || now[node] != (quat.Number{}) {
					continue
				}
				name := source.Doc.Nodes[node].Name
				turn := randomRotation(random)
				now[node] = quat.Mul(fromList(rest.Rotation(name)), turn)
				told.Rotations[name] = toList(now[node])
			}
		}
		pose := scene.Turned(told.Rotations).Constrained()
		for i, l := range limbs {
			require.True(t, report.Limbs[i].Live.Written, report.Limbs[i].Live.Why)
			solver, err := chain.NewSolver(l.Solver)
			require.NoError(t, err)
			fromRest := func(node int) (before, after quat.Number) {
				return fromList(rest.Rotation(source.Doc.Nodes[node].Name)), now[node]
			}
			before, after := fromRest(l.Joint)
			joint, tip := quat.Mul(quat.Conj(before), after), quat.Number{}
			if l.Tip >= 0 {
				before, after = fromRest(l.Tip)
				tip = quat.Mul(after, quat.Conj(before))
			}
			want := make([]quat.Number, solver.Segments())
			result := solver.Solve(want, joint, tip)
			// Where the twist is ill-defined, or all but half a turn, 1e-7 of a place
			// comes out as much more.
			if min(result.Condition, result.TipCondition) < 0.3 || math.Abs(result.Twist) > 3 || math.Abs(result.TipTwist) > 3 {
				continue
			}
			for k, name := range report.Limbs[i].Segments {
				told.Segments[name] = toList(quat.Mul(want[k], fromList(rest.Rotation(name))))
				got := quat.Mul(fromList(pose.Rotation(name)), quat.Conj(fromList(rest.Rotation(name))))
				off := min(quat.Abs(quat.Sub(got, want[k])), quat.Abs(quat.Add(got, want[k])))
				worst = max(worst, off)
				require.LessOrEqual(t, off, liveTolerance, "%s, segment %d: %v, the solver %v", l.Spec.Name, k, got, want[k])
			}
		}
		kept = append(kept, told)
	}
	require.Positive(t, worst)
	poses, err := json.Marshal(kept)
	require.NoError(t, err)
	fixture.Keep(t, stem+".split.glb", encoded)
	fixture.Keep(t, stem+".split.live.json", poses)
}

func restOf(t *testing.T, f *asset.File) []r3.Vec {
	t.Helper()
	e, err := f.Evaluator()
	require.NoError(t, err)
	return e.Vertices(e.World(-1, 0))
}

func randomRotation(random *rand.Rand) quat.Number {
	q := quat.Number{Real: random.NormFloat64() + 1, Imag: random.NormFloat64(), Jmag: random.NormFloat64(), Kmag: random.NormFloat64()}
	return quat.Scale(1/quat.Abs(q), q)
}

func fromList(q [4]float64) quat.Number {
	return quat.Number{Real: q[3], Imag: q[0], Jmag: q[1], Kmag: q[2]}
}
func toList(q quat.Number) [4]float64 { return [4]float64{q.Imag, q.Jmag, q.Kmag, q.Real} }

// What the standard cannot express is said, and baked.
func TestLiveSaysWhatItCannot(t *testing.T) {
	split, report, err := asset.Split(wren(), asset.Options{AsAsked: true, Live: asset.LiveBesideClips})
	require.NoError(t, err)
	for _, l := range report.Limbs {
		if l.Field != asset.FieldLeastRoll && l.Field != asset.FieldBalanced {
			require.True(t, l.Live.Written)
			continue
		}
		require.False(t, l.Live.Written)
		require.Contains(t, l.Live.Why, "least_roll or balanced")
		require.NotNil(t, l.Live.Nearest)
		require.Less(t, l.Live.Nearest.ErrorRMSDeg, l.Live.Nearest.ErrorMaxDeg)
	}
	require.Equal(t, []string{"VRMC_node_constraint"}, split.Doc.ExtensionsUsed)
	require.Empty(t, split.Doc.ExtensionsRequired)
}
