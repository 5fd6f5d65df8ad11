package asset

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// ragged is pelvis - thigh - shin, with the third and fourth vertex of its mesh
// weighted as given, and a second mesh whose only vertex has the same weights as
// the fourth and that no limb moves, under a skin of its own.
func ragged(t *testing.T, third, fourth [4]float64) (*File, error) {
	t.Helper()
	b := &small{}
	at := b.floats("VEC3", 3, 0, 0, 0, 0, 0.5, 0, 0, 1, 0, 3, 1, 0)
	joints := b.bytes(1, 0, 0, 0, 1, 0, 0, 0, 1, 2, 0, 0, 2, 0, 0, 0)
	weights := b.floats("VEC4", 4, append(append([]float64{1, 0, 0, 0, 1, 0, 0, 0}, third[:]...), fourth[:]...)...)
	mesh := func(name string, at, joints, weights int) members {
		return members{"name": name, "primitives": []any{members{"mode": 0, "attributes": members{"POSITION": at, "JOINTS_0": joints, "WEIGHTS_0": weights}}}}
	}
	hat := mesh("hat", b.floats("VEC3", 3, 1, 1, 1), b.bytes(0, 0, 0, 0), b.floats("VEC4", 4, fourth[:]...))
	f := b.file(t, members{
		"nodes": []any{
			members{"name": "pelvis", "children": []any{1}}, members{"name": "thigh", "children": []any{2}},
			members{"name": "shin", "translation": []any{0, 1, 0}},
			members{"mesh": 0, "skin": 0}, members{"mesh": 1, "skin": 1},
		},
		"skins":  []any{members{"joints": []any{0, 1, 2}}, members{"joints": []any{0}}},
		"meshes": []any{mesh("body", at, joints, weights), hat},
	})
	_, err := f.Evaluator()
	return f, err
}

func TestVerticesWithoutWeight(t *testing.T) {
	nan := math.NaN()
	for what, none := range map[string][4]float64{"NaN": {nan, nan, nan, nan}, "zero": {}, "both": {0, nan, 0, 0}} {
		t.Run(what, func(t *testing.T) {
			f, err := ragged(t, [4]float64{0.5, 0.5, nan, 0}, none)
			require.NoError(t, err)
			out, report, err := Split(f, splitThigh("", 2))
			require.NoError(t, err)
			require.Equal(t, []string{
				`mesh "body": 1 vertex has no weight and follows its first joint, as in viewers`,
				`mesh "hat": 1 vertex has no weight and follows its first joint, as in viewers`,
			}, report.Warnings)
			require.LessOrEqual(t, report.RestErrorMax, 1e-6)

			e, err := f.Evaluator()
			require.NoError(t, err)
			// The skins have no inverse bind matrices: a vertex of the shin alone
			// stands a bone's length above where the mesh has it.
			require.InDeltaSlice(t, []float64{3, 2, 0}, coordinates(e, 3), 1e-12)
			require.InDeltaSlice(t, []float64{1, 1, 1}, coordinates(e, 4), 1e-12)

			data, err := out.Encode(true, false)
			require.NoError(t, err)
			again, err := Decode("again.glb", data, nil)
			require.NoError(t, err)
			for _, m := range again.Doc.Meshes {
				for _, p := range m.Primitives {
					requireSumsOfOne(t, again, p.Attributes["WEIGHTS_0"])
				}
			}
		})
	}
}

func coordinates(e *Evaluator, vertex int) []float64 {
	v := e.Vertices(e.World(-1, 0))[vertex]
	return []float64{v.X, v.Y, v.Z}
}

// requireSumsOfOne reads weights as they stand in the file, NaN and all.
func requireSumsOfOne(t *testing.T, f *File, accessor int) {
	f.holdsWeights = nil // so that NaN is refused
	weights, err := f.numbers(accessor, 4)
	require.NoError(t, err)
	for v := 0; v < len(weights); v += 4 {
		require.InDelta(t, 1, weights[v]+weights[v+1]+weights[v+2]+weights[v+3], 1e-6)
	}
}

func TestBadWeightsAreRefused(t *testing.T) {
	sound := [4]float64{1, 0, 0, 0}
	_, err := ragged(t, [4]float64{-0.5, 1, 0, 0}, sound)
	require.ErrorContains(t, err, "WEIGHTS_0: vertex 2: weight -0.5, expected 0 or more")
	_, err = ragged(t, sound, [4]float64{math.Inf(1), 0, 0, 0})
	require.ErrorContains(t, err, "element 3 holds +Inf, expected finite numbers")
}

// Only weights may be NaN.
func TestNaNElsewhereIsRefused(t *testing.T) {
	b := &small{}
	at := b.floats("VEC4", 4, math.NaN(), 0, 0, 0)
	f := b.file(t, members{"nodes": []any{members{}}})
	_, err := f.floats(at, 4)
	require.ErrorContains(t, err, "holds NaN, expected finite numbers")
}

// A slot that names no joint of the skin is set to the first.
func TestUnweightedSlotOutOfRange(t *testing.T) {
	s := skinnedVertices{influences: [][]influence{{{joints: [4]uint16{9}}, {joints: [4]uint16{9}, weights: [4]float64{0, 1}}}}}
	s.bindUnweighted(2)
	require.Equal(t, influence{weights: [4]float64{1}}, s.influences[0][0])
	require.Equal(t, [4]float64{0, 1}, s.influences[0][1].weights)
	require.Equal(t, []int{0}, s.unweighted)
}
