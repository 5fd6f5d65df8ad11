package asset_test

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/pronate/pronate/internal/player"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// addClipStored is what float32 leaves of a rotation: 2^-24 in each component, twice
// that in the angle, and some for products and matrices.
const addClipStored = 8 * 0x1p-24

// addClipLocal is a node's matrix relative to its parent.
func addClipLocal(t *testing.T, f *asset.File, clip int, time float64, parent, node string) mgl64.Mat4 {
	e, err := f.Evaluator()
	require.NoError(t, err)
	world := e.World(clip, time)
	return world[e.Node(parent)].Inv().Mul4(world[e.Node(node)])
}

// A joint whose frame is turned, scaled and mirrored above: what is asked for comes
// about in its own rest frame, at keys, between them and, stepping, right before
// the next; a second player of glTF agrees.
func TestAddClipTurnsFromRest(t *testing.T) {
	bend := func(degrees float64) quat.Number {
		return quat.Scale(-3, twist.About(r3.Unit(r3.Vec{X: 1, Y: 2, Z: -1}), degrees*math.Pi/180))
	}
	for _, o := range []fixture.Options{
		{Axes: fixture.Odd, Clips: []string{"swing"}}, {Axes: fixture.Odd, Mirrored: true, RootScale: 0.01, RootTurned: true},
		{Axes: fixture.Odd, Posed: true}, {Container: fixture.Embedded}, {Container: fixture.External},
	} {
		character, err := fixture.Build(o)
		require.NoError(t, err)
		source, err := asset.Decode(character.Name, character.Data, character.FS())
		require.NoError(t, err)
		parent, node := character.Joints["thigh_r"], character.Joints["shin_r"]
		for _, step := range []bool{false, true} {
			f, err := asset.AddClip(source, asset.NewClip{
				Name: "bend", Times: []float64{0.5, 1, 2.5}, Step: step,
				Joints: []asset.JointTurns{{Joint: node, FromRest: []quat.Number{bend(0), bend(200), bend(90)}}, {Joint: parent, FromRest: []quat.Number{bend(0), bend(0), bend(0)}}},
			})
			require.NoError(t, err)
			e, err := f.Evaluator()
			require.NoError(t, err)
			clip := len(e.Clips()) - 1
			require.Equal(t, "bend", e.Clips()[clip])
			first, last := e.Span(clip)
			require.Equal(t, [2]float64{0.5, 2.5}, [2]float64{first, last})
			data, err := f.Encode(true, false)
			require.NoError(t, err)
			scene, err := player.Load(data)
			require.NoError(t, err)
			want := map[float64]float64{0: 0, 0.5: 0, 0.75: -80, 1: 200, 1.75: 145, 2.5: 90, 9: 90}
			if step {
				want = map[float64]float64{0: 0, 0.75: 0, 0.9999: 0, 1: 200, 1.75: 200, 2.5: 90}
			}
			atRest := addClipLocal(t, f, -1, 0, parent, node)
			require.Equal(t, addClipLocal(t, source, -1, 0, parent, node), atRest)
			for time, degrees := range want {
				expected := atRest.Mul4(rest.Frame{Rotation: bend(degrees)}.Mat4())
				requireAddClipMat(t, expected, addClipLocal(t, f, clip, time, parent, node))
				pose := scene.Pose("bend", time)
				requireAddClipMat(t, expected, pose.World(parent).Inv().Mul4(pose.World(node)))
			}
		}
	}
}

func requireAddClipMat(t *testing.T, want, got mgl64.Mat4) {
	t.Helper()
	// Columns may be long where the root's scale is small: relative to the whole.
	size := math.Sqrt(want.Col(0).Dot(want.Col(0)) + want.Col(3).Dot(want.Col(3)))
	for i := range want {
		require.InDelta(t, want[i], got[i], addClipStored*size, "element %d of %v, expected %v", i, got, want)
	}
}

// All but the new animation and its data comes through as it was: the old data byte
// for byte at the head of the buffer, every other property as it was written. The
// file added to stays as it was.
func TestAddClipCarriesTheRestThrough(t *testing.T) {
	for _, o := range []fixture.Options{
		{Furnishings: true, Clips: []string{"wild", "step"}},
		{Furnishings: true, Sparse: true, Interleaved: true, SharedVertices: true},
	} {
		character, err := fixture.Build(o)
		require.NoError(t, err)
		source, err := asset.Decode(character.Name, character.Data, nil)
		require.NoError(t, err)
		untouched, err := source.Encode(true, true)
		require.NoError(t, err)
		f, err := asset.AddClip(source, asset.NewClip{Name: "new", Times: []float64{0}, Joints: []asset.JointTurns{{Joint: character.Joints["head"], FromRest: []quat.Number{{Real: 1}}}}})
		require.NoError(t, err)
		again, err := source.Encode(true, true)
		require.NoError(t, err)
		require.Equal(t, untouched, again)

		data, err := f.Encode(true, true)
		require.NoError(t, err)
		before, beforeBin := addClipRaw(t, untouched)
		after, afterBin := addClipRaw(t, data)
		require.True(t, bytes.HasPrefix(afterBin, bytes.TrimRight(beforeBin, "\x00")))
		require.Len(t, afterBin, (len(beforeBin)+3)/4*4+4+16)
		for name, raw := range before {
			switch name {
			case "buffers":
				continue
			case "accessors", "bufferViews", "animations":
				var old, new []json.RawMessage
				require.NoError(t, json.Unmarshal(raw, &old))
				require.NoError(t, json.Unmarshal(after[name], &new))
				require.Len(t, new, len(old)+map[string]int{"accessors": 2, "bufferViews": 2, "animations": 1}[name])
				require.Equal(t, old, new[:len(old)], name)
			default:
				require.Equal(t, string(raw), string(after[name]), name)
			}
		}
		require.Contains(t, after, "animations")
		require.JSONEq(t, `[{"name":"new","samplers":[{"input":0,"output":0}],"channels":[{"sampler":0,"target":{"path":"rotation"}}]}]`, addClipLast(t, after["animations"]))
	}
}

// addClipRaw is the parts of a .glb: the JSON's members as written, and the data.
func addClipRaw(t *testing.T, data []byte) (root map[string]json.RawMessage, bin []byte) {
	length := int(data[12]) | int(data[13])<<8 | int(data[14])<<16 | int(data[15])<<24
	require.NoError(t, json.Unmarshal(data[20:20+length], &root))
	return root, data[20+length+8:]
}

// addClipLast is the last animation with the numbers that depend on the file set
// to 0.
func addClipLast(t *testing.T, raw json.RawMessage) string {
	var animations []map[string]any
	require.NoError(t, json.Unmarshal(raw, &animations))
	last := animations[len(animations)-1]
	sampler := last["samplers"].([]any)[0].(map[string]any)
	require.NotEqual(t, sampler["input"], sampler["output"])
	sampler["input"], sampler["output"] = 0, 0
	target := last["channels"].([]any)[0].(map[string]any)["target"].(map[string]any)
	delete(target, "node")
	text, err := json.Marshal([]any{last})
	require.NoError(t, err)
	return string(text)
}

// What was added goes through Split like any other clip.
func TestAddedClipIsSplit(t *testing.T) {
	wren := auditWren(t)
	clip := asset.NewClip{Name: "twist series", Joints: []asset.JointTurns{{Joint: "thigh_l"}}}
	bone := auditBone(t, wren, "thigh_l", "shin_l")
	for i := range 5 {
		clip.Times = append(clip.Times, float64(i))
		clip.Joints[0].FromRest = append(clip.Joints[0].FromRest, twist.About(r3.Unit(bone), float64(i)*15*auditDegree))
	}
	f, err := asset.AddClip(wren, clip)
	require.NoError(t, err)
	_, report, err := asset.Split(f, asset.Options{AsAsked: true})
	require.NoError(t, err)
	require.Len(t, report.Clips, 5)
	require.Equal(t, "twist series", report.Clips[4].Name)
	for _, l := range report.Limbs {
		if l.Joint == "thigh_l" {
			require.GreaterOrEqual(t, l.TwistMaxDeg, 59.99)
		}
	}
}

func TestAddClipRefuses(t *testing.T) {
	wren := auditWren(t)
	one := []quat.Number{{Real: 1}}
	at := func(joint string, q ...quat.Number) []asset.JointTurns {
		return []asset.JointTurns{{Joint: joint, FromRest: q}}
	}
	nan := math.NaN()
	for _, c := range []struct {
		clip    asset.NewClip
		message string
	}{
		{asset.NewClip{Times: []float64{0}, Joints: at("head", one...)}, `wren.glb: new clip "": name is empty, expected one`},
		{asset.NewClip{Name: "high step", Times: []float64{0}, Joints: at("head", one...)}, `wren.glb: new clip "high step": name is that of another clip, expected a new one`},
		{asset.NewClip{Name: "n", Joints: at("head")}, `wren.glb: new clip "n": times: none, expected one or more`},
		{asset.NewClip{Name: "n", Times: []float64{0}}, `wren.glb: new clip "n": joints: none, expected one or more`},
		{asset.NewClip{Name: "n", Times: []float64{0}, Joints: at("nobody", one...)}, `wren.glb: new clip "n": joint "nobody": there is no node "nobody"`},
		{asset.NewClip{Name: "n", Times: []float64{0, 1}, Joints: at("head", one...)}, `wren.glb: new clip "n": joint "head": from rest: 1 rotations, expected 2, one a time`},
		{asset.NewClip{Name: "n", Times: []float64{0, 0}, Joints: at("head", one[0], one[0])}, "times: key 1 is at 0 s, expected finite times of 0 or more that grow, also as float32"},
		{asset.NewClip{Name: "n", Times: []float64{1, 1 + 1e-9}, Joints: at("head", one[0], one[0])}, "times: key 1 is at 1.000000001 s"},
		{asset.NewClip{Name: "n", Times: []float64{-1}, Joints: at("head", one...)}, "times: key 0 is at -1 s"},
		{asset.NewClip{Name: "n", Times: []float64{nan}, Joints: at("head", one...)}, "times: key 0 is at NaN s"},
		{asset.NewClip{Name: "n", Times: []float64{1e39}, Joints: at("head", one...)}, "times: key 0 is at 1e+39 s"},
		{asset.NewClip{Name: "n", Times: []float64{0}, Joints: at("head", quat.Number{})}, `joint "head": from rest: key 0 is (0+0i+0j+0k), expected a finite rotation of non-zero length`},
		{asset.NewClip{Name: "n", Times: []float64{0}, Joints: at("#0", quat.Number{})}, `joint "` + wren.Doc.Nodes[0].Name + `": from rest: key 0 is`},
		{asset.NewClip{Name: "n", Times: []float64{0}, Joints: at("head", quat.Number{Real: nan})}, `joint "head": from rest: key 0 is`},
		{asset.NewClip{Name: "n", Times: []float64{0}, Joints: at("head", quat.Number{Jmag: math.Inf(-1)})}, `joint "head": from rest: key 0 is`},
		{asset.NewClip{Name: "n", Times: []float64{0}, Joints: append(at("head", one...), at("head", one...)...)}, `joint "head": is in the clip already as "head", expected each joint once`},
	} {
		_, err := asset.AddClip(wren, c.clip)
		require.ErrorContains(t, err, c.message)
	}

	empty, err := asset.Decode("empty.gltf", []byte(`{"asset":{"version":"2.0"},"nodes":[{"name":"head"}]}`), nil)
	require.NoError(t, err)
	_, err = asset.AddClip(empty, asset.NewClip{Name: "n", Times: []float64{0}, Joints: at("head", one...)})
	require.EqualError(t, err, `empty.gltf: new clip "n": the file has no buffer, expected a character with data`)
}
