package asset_test

import (
	"encoding/binary"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/player"
	"github.com/stretchr/testify/require"
)

// glbJSON is the JSON chunk of a .glb, parsed without types.
func glbJSON(t *testing.T, data []byte) map[string]any {
	t.Helper()
	length := binary.LittleEndian.Uint32(data[12:])
	var root map[string]any
	require.NoError(t, json.Unmarshal(data[20:20+length], &root))
	return root
}

func list(root map[string]any, key string) []any {
	l, _ := root[key].([]any)
	return l
}

func without(o any, keys ...string) map[string]any {
	out := map[string]any{}
	for k, v := range o.(map[string]any) {
		out[k] = v
	}
	for _, k := range keys {
		delete(out, k)
	}
	return out
}

// Materials, cameras, props, morph targets, extras, unknown extensions and
// every channel are carried through; what changes is what a split is about.
func TestEverythingElseIsCarriedThrough(t *testing.T) {
	for _, o := range []fixture.Options{
		{Furnishings: true},
		{Furnishings: true, Sparse: true, Interleaved: true, Weights: fixture.UByte, SharedVertices: true},
		{Furnishings: true, SeveralSkins: true, SharedMesh: true, Matrices: true, Axes: fixture.Odd},
	} {
		o.Clips = []string{"wild", "step"}
		character, err := fixture.Build(o)
		require.NoError(t, err)
		file, err := asset.Decode(character.Name, character.Data, nil)
		require.NoError(t, err)
		out, report, err := asset.Split(file, asset.Options{AsAsked: true})
		require.NoError(t, err)
		data, err := out.Encode(true, false)
		require.NoError(t, err)
		before, after := glbJSON(t, character.Data), glbJSON(t, data)

		changing := []string{"accessors", "animations", "bufferViews", "buffers", "meshes", "nodes", "skins"}
		require.Equal(t, without(before, changing...), without(after, changing...))
		split := map[string]bool{}
		for _, l := range report.Limbs {
			split[l.Joint] = true
		}
		for i, n := range list(before, "nodes") {
			if name, _ := n.(map[string]any)["name"].(string); split[name] {
				require.Equal(t, without(n, "children"), without(list(after, "nodes")[i], "children"))
				continue
			}
			require.Equal(t, without(n, "mesh"), without(list(after, "nodes")[i], "mesh"))
		}
		for i, s := range list(before, "skins") {
			require.Equal(t, without(s, "joints", "inverseBindMatrices"), without(list(after, "skins")[i], "joints", "inverseBindMatrices"))
		}
		for i, a := range list(before, "animations") {
			require.Equal(t, without(a, "samplers", "channels"), without(list(after, "animations")[i], "samplers", "channels"))
			for _, key := range []string{"samplers", "channels"} {
				was := list(a.(map[string]any), key)
				is := list(list(after, "animations")[i].(map[string]any), key)
				require.Equal(t, was, is[:len(was)])
			}
		}
		for i, m := range list(before, "meshes") {
			is := list(after, "meshes")[i]
			require.Equal(t, without(m, "primitives"), without(is, "primitives"))
			for j, p := range list(m.(map[string]any), "primitives") {
				q := list(is.(map[string]any), "primitives")[j].(map[string]any)
				require.Equal(t, without(p, "attributes"), without(q, "attributes"))
				skin := []string{"JOINTS_0", "WEIGHTS_0"}
				require.Equal(t, without(p.(map[string]any)["attributes"], skin...), without(q["attributes"], skin...))
			}
		}
	}
}

// The clips play every joint that was there as before.
func TestOldJointsMoveAsBefore(t *testing.T) {
	c := splitVariant(t, "old-joints", fixture.Options{Furnishings: true, Axes: fixture.Odd}, asset.Options{AsAsked: true})
	for _, clip := range c.source.Clips() {
		for _, at := range []float64{0.21, 0.9} {
			before, after := c.source.Pose(clip, at), c.split.Pose(clip, at)
			for _, joint := range c.character.Joints {
				require.Equal(t, before.World(joint), after.World(joint))
			}
		}
	}
}

// Nothing that was replaced stays behind: old weights and old inverse bind
// matrices leave the file.
func TestNoDeadWeight(t *testing.T) {
	character, err := fixture.Build(fixture.Options{Clips: []string{"swing"}})
	require.NoError(t, err)
	file, err := asset.Decode(character.Name, character.Data, nil)
	require.NoError(t, err)
	out, _, err := asset.Split(file, asset.Options{AsAsked: true})
	require.NoError(t, err)
	used := map[int]bool{}
	for _, a := range out.Doc.Accessors {
		require.NotNil(t, a.BufferView)
		used[*a.BufferView] = true
	}
	total := 0
	for i, v := range out.Doc.BufferViews {
		require.True(t, used[i], "buffer view %d", i)
		total += v.ByteLength
	}
	require.InDelta(t, total, out.Doc.Buffers[0].ByteLength, 8*float64(len(used)), "bytes that no view shows")
}

func TestEightInfluencesByOption(t *testing.T) {
	character, err := fixture.Build(fixture.Options{EightInfluences: true, Stem: "eight-source"})
	require.NoError(t, err)
	file, err := asset.Decode(character.Name, character.Data, nil)
	require.NoError(t, err)
	for _, most := range []int{4, 8} {
		_, report, err := asset.Split(file, asset.Options{AsAsked: true, Influences: most})
		require.NoError(t, err)
		for _, l := range report.Limbs {
			require.GreaterOrEqual(t, l.WeightMovedMax, 0.0)
			require.Less(t, l.WeightMovedMax, 0.5)
		}
	}
	_, _, err = asset.Split(file, asset.Options{AsAsked: true, Influences: 5})
	require.EqualError(t, err, "influences is 5, expected 4 or 8")
}

// A .gltf with its buffers and images beside it, saved elsewhere, takes along
// what it needs.
func TestSavedElsewhereItTakesItsFilesAlong(t *testing.T) {
	character, err := fixture.Build(fixture.Options{Container: fixture.External, Furnishings: true, Stem: "moved"})
	require.NoError(t, err)
	home := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(home, character.Name), character.Data, 0o644))
	for name, data := range character.Files {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(home, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(home, name), data, 0o644))
	}
	file, err := asset.Open(filepath.Join(home, character.Name))
	require.NoError(t, err)
	out, _, err := asset.Split(file, asset.Options{AsAsked: true})
	require.NoError(t, err)
	away := t.TempDir()
	for _, name := range []string{"away.glb", "away.gltf"} {
		path := filepath.Join(away, name)
		require.NoError(t, out.Save(path))
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		_, err = player.Load(data) // no files at hand
		require.NoError(t, err)
		entries, err := os.ReadDir(away)
		require.NoError(t, err)
		for _, e := range entries {
			require.True(t, strings.HasPrefix(e.Name(), "away."), e.Name())
		}
	}
	beside := filepath.Join(home, "beside.gltf")
	require.NoError(t, out.Save(beside))
	again, err := asset.Open(beside)
	require.NoError(t, err)
	require.Equal(t, len(out.Doc.Nodes), len(again.Doc.Nodes))
}

// external writes a character into a folder with its buffers and an image beside it.
func external(t *testing.T, home string) (path string, data []byte) {
	character, err := fixture.Build(fixture.Options{Container: fixture.External, Furnishings: true, Clips: allClips, Stem: "moved"})
	require.NoError(t, err)
	path = filepath.Join(home, character.Name)
	require.NoError(t, os.WriteFile(path, character.Data, 0o644))
	for name, data := range character.Files {
		require.NoError(t, os.WriteFile(filepath.Join(home, name), data, 0o644))
	}
	return path, character.Data
}

// refersTo lists the files that a saved .gltf refers to.
func refersTo(t *testing.T, path string) (names []string) {
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	var root struct{ Buffers, Images []struct{ URI string } }
	require.NoError(t, json.Unmarshal(text, &root))
	require.NotEmpty(t, root.Images)
	for _, o := range append(root.Buffers, root.Images...) {
		if o.URI != "" && !strings.HasPrefix(o.URI, "data:") {
			names = append(names, o.URI)
		}
	}
	return names
}

// A name that Decode is given is no path: what it refers to was not read from
// there, so it is taken along.
func TestSavedBesideAName(t *testing.T) {
	path, data := external(t, t.TempDir())
	file, err := asset.Decode("moved.gltf", data, os.DirFS(filepath.Dir(path)))
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, file.Save("alone.gltf"))
	require.Empty(t, refersTo(t, "alone.gltf"))
}

// A folder is known by its name as it is, not by what messages print of it, and by
// where it was when the file was opened.
func TestSavedInItsOwnFolder(t *testing.T) {
	home := filepath.Join(t.TempDir(), "a\u200db")
	require.NoError(t, os.Mkdir(home, 0o755))
	path, _ := external(t, home)
	for _, name := range []string{path, filepath.Base(path)} {
		t.Chdir(home)
		source, err := asset.Open(name)
		require.NoError(t, err)
		split, _, err := asset.Split(source, asset.Options{AsAsked: true})
		require.NoError(t, err)
		t.Chdir(t.TempDir())
		for _, file := range []*asset.File{source, split} {
			beside := filepath.Join(home, "beside.gltf")
			require.NoError(t, file.Save(beside))
			require.Contains(t, refersTo(t, beside), "cloth.png")
			require.NoError(t, file.Save("elsewhere.gltf"))
			require.Empty(t, refersTo(t, "elsewhere.gltf"))
		}
	}
}

func TestNamesOfNewJoints(t *testing.T) {
	character, err := fixture.Build(fixture.Options{})
	require.NoError(t, err)
	file, err := asset.Decode(character.Name, character.Data, nil)
	require.NoError(t, err)
	_, report, err := asset.Split(file, asset.Options{AsAsked: true, Names: "deform {joint} ({n})"})
	require.NoError(t, err)
	require.Equal(t, "deform thigh_l (1)", report.Limbs[0].Segments[0])
}

func TestSplitErrorsNameTheCulprit(t *testing.T) {
	character, err := fixture.Build(fixture.Options{})
	require.NoError(t, err)
	file, err := asset.Decode("wild.glb", character.Data, nil)
	require.NoError(t, err)
	thigh := asset.LimbSpec{Name: "thigh", Joint: "thigh_l", End: asset.End{Joint: "shin_l"}, Segments: 2}
	for _, c := range []struct {
		change func(*asset.LimbSpec)
		want   string
	}{
		{func(l *asset.LimbSpec) { l.End.Joint = "pelvis" }, `wild.glb: limb "thigh": end: "pelvis" is not below the joint, expected one of its descendants or a point`},
		{func(l *asset.LimbSpec) { l.Anchor = "foot_l" }, `wild.glb: limb "thigh": anchor: "foot_l" is the joint or below it, expected a joint that does not turn with it`},
		{func(l *asset.LimbSpec) { l.Twist, l.Tip = "tip", "hand_r" }, `wild.glb: limb "thigh": tip: "hand_r" is not below the joint, expected one of its descendants`},
		{func(l *asset.LimbSpec) { l.End = asset.End{Point: new([3]float64)} }, `wild.glb: limb "thigh": end is [0, 0, 0], expected three finite numbers, not all 0`},
		{func(l *asset.LimbSpec) { l.Segments = 1 }, `wild.glb: limb "thigh": segments is 1, expected auto or a whole number from 2 to 32`},
	} {
		l := thigh
		c.change(&l)
		_, _, err := asset.Split(file, asset.Options{AsAsked: true, Limbs: []asset.LimbSpec{l}})
		require.ErrorContains(t, err, c.want)
		require.NotContains(t, err.Error(), "\n")
	}
	_, _, err = asset.Split(file, asset.Options{AsAsked: true, Limbs: []asset.LimbSpec{thigh, thigh}})
	require.ErrorContains(t, err, `both split joint "thigh_l"`)
}
