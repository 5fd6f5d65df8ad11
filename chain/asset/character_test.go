package asset_test

import (
	"encoding/binary"
	"encoding/json"
	"iter"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
)

// clipsAlone is a .glb without its meshes and skins: joints and channels, as studios
// keep clips. keep says which clips stay.
func clipsAlone(t *testing.T, data []byte, keep func(name string) bool) *asset.File {
	t.Helper()
	length := binary.LittleEndian.Uint32(data[12:])
	var root map[string]any
	require.NoError(t, json.Unmarshal(data[20:20+length], &root))
	delete(root, "meshes")
	delete(root, "skins")
	for _, n := range root["nodes"].([]any) {
		delete(n.(map[string]any), "mesh")
		delete(n.(map[string]any), "skin")
	}
	var kept []any
	for _, a := range root["animations"].([]any) {
		if keep(a.(map[string]any)["name"].(string)) {
			kept = append(kept, a)
		}
	}
	root["animations"] = kept
	text, err := json.Marshal(root)
	require.NoError(t, err)
	for len(text)%4 != 0 {
		text = append(text, ' ')
	}
	bin := data[20+length:]
	out := append([]byte("glTF"), 2, 0, 0, 0)
	out = binary.LittleEndian.AppendUint32(out, uint32(20+len(text)+len(bin)))
	out = binary.LittleEndian.AppendUint32(out, uint32(len(text)))
	out = append(append(append(out, "JSON"...), text...), bin...)
	f, err := asset.Decode("clips.glb", out, nil)
	require.NoError(t, err)
	require.False(t, f.HasSkin())
	return f
}

// bakedKeys are the keys of the new joints, by clip, joint and property.
func bakedKeys(t *testing.T, f *asset.File, joints map[string]bool) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	data := func(accessor int) []byte {
		a := f.Doc.Accessors[accessor]
		v := f.Doc.BufferViews[*a.BufferView]
		return f.Doc.Buffers[v.Buffer].Data[v.ByteOffset : v.ByteOffset+v.ByteLength]
	}
	for _, a := range f.Doc.Animations {
		for _, c := range a.Channels {
			if node := f.Doc.Nodes[*c.Target.Node].Name; joints[node] {
				s := a.Samplers[c.Sampler]
				key := a.Name + " " + node + " " + string(c.Target.Path)
				out[key] = append(append(append([]byte(nil), data(s.Input)...), '|'), data(s.Output)...)
			}
		}
	}
	return out
}

// Clips in files of their own, split for a character, get the very keys that they get
// inside the character's file: as many segments, by the same field, to the last bit.
func TestClipsOfTheirOwn(t *testing.T) {
	for name, o := range map[string]fixture.Options{
		"plain": {}, "odd axes": {Axes: fixture.Odd, RootTurned: true, RootScale: 0.01}, "cubic": {Interpolation: "CUBICSPLINE"},
	} {
		t.Run(name, func(t *testing.T) {
			o.Clips = []string{"twist thigh", "twist upper arm", "bend hand", "turn hand", "swing", "wild", "wild 2"}
			built, err := fixture.Build(o)
			require.NoError(t, err)
			body, err := asset.Decode(built.Name, built.Data, nil)
			require.NoError(t, err)
			whole, report, err := asset.Split(body, asset.Options{})
			require.NoError(t, err)
			require.NotEmpty(t, report.Limbs)
			joints := map[string]bool{}
			for _, l := range report.Limbs {
				for _, s := range l.Segments {
					joints[s] = true
				}
			}
			want := bakedKeys(t, whole, joints)
			require.NotEmpty(t, want)

			bare, err := asset.WithoutClips(body)
			require.NoError(t, err)
			halves := []*asset.File{
				clipsAlone(t, built.Data, func(name string) bool { return name < "swing" }),
				clipsAlone(t, built.Data, func(name string) bool { return name >= "swing" }),
			}
			limbs, choices, err := asset.Choose(bare, eachFile(halves), asset.Options{})
			require.NoError(t, err)
			require.True(t, limbs.Resolved)
			require.Len(t, choices, 6)
			again, err := asset.ParseLimbs("resolved.yaml", limbs.YAML())
			require.NoError(t, err)
			got := map[string][]byte{}
			for _, half := range halves {
				split, r, err := asset.Split(half, asset.Options{Limbs: again.Limbs, AsAsked: again.Resolved, Character: bare})
				require.NoError(t, err)
				require.Empty(t, r.Choices)
				for key, data := range bakedKeys(t, split, joints) {
					got[key] = data
				}
			}
			require.Equal(t, want, got)
		})
	}
}

func eachFile(files []*asset.File) iter.Seq2[*asset.File, error] {
	return func(yield func(*asset.File, error) bool) {
		for _, f := range files {
			if !yield(f, nil) {
				return
			}
		}
	}
}

// A file of clips alone is refused without a limb file or its character, and where it
// has not the character's joints.
func TestClipsAloneRefused(t *testing.T) {
	built, err := fixture.Build(fixture.Options{Clips: []string{"swing"}})
	require.NoError(t, err)
	clips := clipsAlone(t, built.Data, func(string) bool { return true })
	_, _, err = asset.Split(clips, asset.Options{})
	require.EqualError(t, err, "clips.glb: no mesh under a skin, so that no split can be measured; expected the file of the character (--character) or a limb file (--limbs)")
	other, err := fixture.Build(fixture.Options{Names: fixture.German})
	require.NoError(t, err)
	body, err := asset.Decode(other.Name, other.Data, nil)
	require.NoError(t, err)
	limbs, err := asset.Detect(body)
	require.NoError(t, err)
	_, _, err = asset.Split(clips, asset.Options{Limbs: limbs.Limbs, AsAsked: true, Character: body})
	require.ErrorContains(t, err, `clips.glb: limb "left thigh": there is no node "`)
	require.ErrorContains(t, err, "expected the joints of character.glb by their names")
}
