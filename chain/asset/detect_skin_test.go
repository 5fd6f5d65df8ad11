package asset

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// lump is a triangle at a height, each of whose corners some joints move.
type lump struct {
	y, x    float64
	joints  [3][4]byte
	weights [3][2]float64 // of the first two joints
}

// alone is a lump that one joint moves.
func alone(y, x float64, joint byte) lump {
	return shared(y, x, joint, joint, 1)
}

// shared is a lump that two joints move.
func shared(y, x float64, a, b byte, weight float64) (l lump) {
	l.y, l.x = y, x
	for k := range 3 {
		l.joints[k] = [4]byte{a, b}
		l.weights[k] = [2]float64{weight, 1 - weight}
	}
	return l
}

// lumps is hips (0) - thigh (1) - shin (2) - foot (3), and upper arm (4) - forearm
// (5) - hand (6) below the hips, with one mesh for each list of lumps.
func lumps(t *testing.T, meshes ...[]lump) *File {
	t.Helper()
	b := &small{}
	nodes := []any{
		members{"name": "Hips", "children": []any{1, 4}},
		members{"name": "coscia sx", "children": []any{2}, "translation": []any{0.1, 0, 0}},
		members{"name": "sx shin", "children": []any{3}, "translation": []any{0, -1, 0}},
		members{"name": "Fuss sx", "translation": []any{0, -1, 0}},
		members{"name": "Oberarm L", "children": []any{5}, "translation": []any{0.2, 1, 0}},
		members{"name": "L elbow", "children": []any{6}, "translation": []any{0, -1, 0}},
		members{"name": "mano L", "translation": []any{0, -1, 0}},
	}
	var list []any
	for m, mesh := range meshes {
		var at, weights []float64
		var joints []byte
		for _, l := range mesh {
			for k := range 3 {
				at = append(at, l.x+float64(k%2), l.y+float64(k/2), 0)
				joints = append(joints, l.joints[k][:]...)
				weights = append(weights, l.weights[k][0], l.weights[k][1], 0, 0)
			}
		}
		list = append(list, members{"primitives": []any{members{"attributes": members{
			"POSITION": b.floats("VEC3", 3, at...), "JOINTS_0": b.bytes(joints...), "WEIGHTS_0": b.floats("VEC4", 4, weights...),
		}}}})
		nodes = append(nodes, members{"mesh": m, "skin": 0})
	}
	return b.file(t, members{
		"nodes": nodes, "meshes": list,
		"skins": []any{members{"joints": []any{0, 1, 2, 3, 4, 5, 6}}},
	})
}

func TestDetectSkipsRigidLimbs(t *testing.T) {
	hips, foot, hand := alone(0, 10, 0), alone(0, 20, 3), alone(0, 30, 6)
	softArm := []lump{shared(0, 40, 0, 4, 0.5), shared(0, 50, 4, 5, 0.5), shared(0, 60, 5, 6, 0.5)}
	const (
		rigid = "its skin moves as one rigid piece"
		apart = "its skin is not joined to the skin of the joints above it"
	)
	for what, test := range map[string]struct {
		thigh  []lump
		reason string // "" where it is proposed
	}{
		"one piece":                     {[]lump{alone(0, 0, 1), alone(0, 70, 2)}, rigid},
		"two pieces":                    {[]lump{alone(0, 0, 1), alone(9, 0, 1), alone(0, 70, 2)}, rigid},
		"blended with the hips":         {[]lump{shared(0, 0, 0, 1, 0.9), alone(0, 70, 2)}, ""},
		"blended with the shin alone":   {[]lump{shared(0, 0, 1, 2, 0.9)}, apart},
		"one piece of two is blended":   {[]lump{alone(0, 0, 1), shared(9, 0, 0, 1, 0.5), alone(0, 70, 2)}, ""},
		"touches a piece of the hips":   {[]lump{alone(0, 0, 1), alone(0, 1, 0), alone(0, 70, 2)}, rigid},
		"welded to a blend of the hips": {[]lump{shared(0, 0, 1, 2, 0.5), shared(0, 1, 0, 1, 0.1)}, ""},
		"hard edge within a triangle": {[]lump{{joints: [3][4]byte{{0}, {1}, {1}}, weights: [3][2]float64{{1}, {1}, {1}}},
			alone(0, 70, 2)}, ""},
	} {
		t.Run(what, func(t *testing.T) {
			for _, meshes := range [][][]lump{
				{append(append([]lump{hips, foot, hand}, softArm...), test.thigh...)}, // one mesh
				append([][]lump{{hips, foot, hand}, softArm}, each(test.thigh)...),    // one for each lump
			} {
				limbs, err := Detect(lumps(t, meshes...))
				require.NoError(t, err)
				require.False(t, limbs.SkinUnseen)
				arm := []string{"left upper arm: Oberarm L > L elbow", "left forearm: L elbow > mano L ~ mano L"}
				if test.reason == "" {
					require.Equal(t, append([]string{"left thigh: coscia sx > sx shin"}, arm...), summary(limbs))
					require.Empty(t, limbs.Skipped)
					continue
				}
				require.Equal(t, arm, summary(limbs))
				require.Len(t, limbs.Skipped, 1)
				skipped := limbs.Skipped[0]
				require.Equal(t, []string{"left thigh", "coscia sx", test.reason}, []string{skipped.Name, skipped.Joint, skipped.Reason})
				require.Equal(t, []string{"left thigh", "coscia sx"}, []string{skipped.Spec.Name, skipped.Spec.Joint})
				require.NotEmpty(t, skipped.Spec.End.Joint)
				require.Contains(t, string(limbs.YAML()), "\n# left thigh (joint coscia sx) is not proposed: "+test.reason+"\nversion: 1\n")
			}
		})
	}
}

func each(list []lump) (out [][]lump) {
	for _, l := range list {
		out = append(out, []lump{l})
	}
	return out
}

// Where every limb is rigid there is no error, but nothing to split either.
func TestDetectSkipsAll(t *testing.T) {
	var list []lump
	for joint := range byte(7) {
		list = append(list, alone(0, 10*float64(joint), joint))
	}
	f := lumps(t, list)
	limbs, err := Detect(f)
	require.NoError(t, err)
	require.Empty(t, limbs.Limbs)
	require.Len(t, limbs.Skipped, 3)
	require.Contains(t, string(limbs.YAML()), "\nlimbs: []\n")
	out, report, err := Split(f, Options{})
	require.NoError(t, err)
	require.Same(t, f, out)
	require.Empty(t, report.Limbs)
	require.Len(t, report.Choices, 3)
	require.Equal(t, Choice{Limb: "left thigh", Joint: "coscia sx", Reason: "it stays as it is: its skin moves as one rigid piece"}, report.Choices[0])
}

// A name cannot end the comment that it stands in.
func TestSkippedLimbIsOneLine(t *testing.T) {
	require.NotContains(t, SkippedLimb{Name: "a\nb", Joint: "c\r\nd", Reason: "e"}.String(), "\n")
}

// Files of clips have the nodes and no body.
func TestDetectWithoutMesh(t *testing.T) {
	const text = `
root
	Becken
		hind link L @ 0.1 0 0
			Back-leg.L @ 0.3 0 0
				Oberschenkel L @ 0 -0.8 0.2
					knee_L @ 0 -1 -0.4
						hufL
		r oberarm @ -0.3 0 0
			r ellbogen
				kelp claw
	prop`
	f := decodeSkeleton(t, text)
	body, err := Detect(f)
	require.NoError(t, err)
	require.False(t, body.SkinUnseen)
	for what, keep := range map[string][]string{"no skin": {"asset", "nodes"}, "a skin without a mesh": {"asset", "nodes", "skins"}} {
		t.Run(what, func(t *testing.T) {
			var root map[string]any
			require.NoError(t, json.Unmarshal(skinned(skeleton(text)), &root))
			kept := map[string]any{}
			for _, key := range keep {
				kept[key] = root[key]
			}
			nodes := kept["nodes"].([]any)
			kept["nodes"] = nodes[:len(nodes)-1] // the body
			f, err := Decode("clips.gltf", encoded(t, kept), nil)
			require.NoError(t, err)
			limbs, err := Detect(f)
			require.NoError(t, err)
			require.True(t, limbs.SkinUnseen)
			require.Equal(t, body.Limbs, limbs.Limbs)
			require.Contains(t, string(limbs.YAML()), "# This file has no mesh: the limbs were found by names and hierarchy alone.\n")
		})
	}
}

// Where clips turn one tree of nodes, the other trees are no character.
func TestDetectWithoutMeshKeepsToTheTurnedTree(t *testing.T) {
	b := &small{}
	clip := b.animation("wave", []float64{0, 1}, legChannel{node: 0, interpolation: "LINEAR", degrees: []float64{0, 90}})
	leg := func(first int, side string) []any {
		return []any{
			members{"name": "thigh " + side, "children": []any{first + 1}},
			members{"name": "shin " + side, "translation": []any{0, -1, 0}},
		}
	}
	f := b.file(t, members{"nodes": append(leg(0, "l"), leg(2, "r")...), "animations": []any{clip}})
	limbs, err := Detect(f)
	require.NoError(t, err)
	require.Equal(t, []string{"left thigh: thigh l > shin l"}, summary(limbs))
	require.Equal(t, RangeClips, limbs.Limbs[0].Range.Name)
}

// The tour puts what is below a node into one range.
func TestTour(t *testing.T) {
	f := decodeSkeleton(t, "a\n\tb\n\t\tc\n\td\ne")
	tour := f.tour(f.parentsFirst())
	require.Equal(t, []placeRange{{0, 3}, {1, 2}, {2, 2}, {3, 3}, {4, 4}}, tour[:5])
}

// Positions beside each other by rounding are one; those that no joint has in
// common are not.
func TestWeld(t *testing.T) {
	part := func(joint uint16, at ...float64) skinPart {
		s := &skinnedVertices{positions: at}
		s.influences = [][]influence{make([]influence, len(at)/3)}
		for v := range s.influences[0] {
			s.influences[0][v] = influence{joints: [4]uint16{joint}, weights: [4]float64{1}}
		}
		return skinPart{skinnedVertices: s, triangles: []int{}}
	}
	rounding := math.Nextafter32(1, 2)
	pieces := weld([]skinPart{part(0, 0, 0, 0, 1, 1, 1), part(0, float64(rounding), 1, 1, 0, math.Copysign(0, -1), 0), part(1, 1, 1, 1)})
	require.Equal(t, pieces.find(1), pieces.find(2))
	require.Equal(t, pieces.find(0), pieces.find(3))
	require.NotEqual(t, pieces.find(0), pieces.find(1))
	require.NotEqual(t, pieces.find(1), pieces.find(4))
}
