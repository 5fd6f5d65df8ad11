package asset

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// small builds files of a few nodes for tests that turn on one detail.
type small struct {
	bin              []byte
	views, accessors []any
}

type members = map[string]any

func (b *small) add(data []byte, component, count int, kind string) int {
	for len(b.bin)%4 != 0 {
		b.bin = append(b.bin, 0)
	}
	b.views = append(b.views, members{"buffer": 0, "byteOffset": len(b.bin), "byteLength": len(data)})
	b.bin = append(b.bin, data...)
	b.accessors = append(b.accessors, members{"bufferView": len(b.views) - 1, "componentType": component, "count": count, "type": kind})
	return len(b.accessors) - 1
}

func (b *small) floats(kind string, width int, numbers ...float64) int {
	var data []byte
	for _, x := range numbers {
		data = binary.LittleEndian.AppendUint32(data, math.Float32bits(float32(x)))
	}
	return b.add(data, 5126, len(numbers)/width, kind)
}

func (b *small) bytes(numbers ...byte) int { return b.add(numbers, 5121, len(numbers)/4, "VEC4") }

// turns is a rotation output: one key for each angle about Y, in degrees.
func (b *small) turns(degrees ...float64) int {
	var numbers []float64
	for _, d := range degrees {
		sin, cos := math.Sincos(d * math.Pi / 360)
		numbers = append(numbers, 0, sin, 0, cos)
	}
	return b.floats("VEC4", 4, numbers...)
}

func (b *small) file(t *testing.T, root members) *File {
	t.Helper()
	root["asset"] = members{"version": "2.0"}
	root["buffers"] = []any{members{"byteLength": len(b.bin)}}
	root["bufferViews"], root["accessors"] = b.views, b.accessors
	text, err := json.Marshal(root)
	require.NoError(t, err)
	f, err := Decode("small.glb", glbOf(t, text, b.bin), nil)
	require.NoError(t, err)
	return f
}

// legChannel moves one node over keys at the times of its animation.
type legChannel struct {
	node          int
	interpolation string
	degrees       []float64 // about Y, or
	rotations     []float64 // x, y, z, w, key after key, or
	translations  []float64 // x, y, z, key after key, or
	scales        []float64 // the same
}

// animation has channels that share their key times.
func (b *small) animation(name string, times []float64, channels ...legChannel) members {
	input := b.floats("SCALAR", 1, times...)
	accessor := b.accessors[input].(members)
	accessor["min"], accessor["max"] = []any{float32(times[0])}, []any{float32(times[len(times)-1])}
	var samplers, targets []any
	for i, c := range channels {
		output, path := 0, "rotation"
		switch {
		case c.rotations != nil:
			output = b.floats("VEC4", 4, c.rotations...)
		case c.translations != nil:
			output, path = b.floats("VEC3", 3, c.translations...), "translation"
		case c.scales != nil:
			output, path = b.floats("VEC3", 3, c.scales...), "scale"
		default:
			output = b.turns(c.degrees...)
		}
		samplers = append(samplers, members{"input": input, "output": output, "interpolation": c.interpolation})
		targets = append(targets, members{"sampler": i, "target": members{"node": c.node, "path": path}})
	}
	return members{"name": name, "samplers": samplers, "channels": targets}
}

// leg is pelvis - mid - thigh - shin, with mid scaled and channels that move
// its nodes over keys at the given times.

func leg(t *testing.T, scale []any, times []float64, channels ...legChannel) *File {
	t.Helper()
	b := &small{}
	at := b.floats("VEC3", 3, 0, 0, 0, 0, 0.5, 0, 0, 1, 0)
	joints := b.bytes(2, 0, 0, 0, 2, 0, 0, 0, 2, 0, 0, 0)
	weights := b.floats("VEC4", 4, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0)
	turn := b.animation("turn", times, channels...)
	return b.file(t, members{
		"nodes": []any{
			members{"name": "pelvis", "children": []any{1}},
			members{"name": "mid", "children": []any{2}, "scale": scale},
			members{"name": "thigh", "children": []any{3}},
			members{"name": "shin", "translation": []any{0, 1, 0}},
			members{"mesh": 0, "skin": 0},
		},
		"scenes":     []any{members{"nodes": []any{0, 4}}},
		"skins":      []any{members{"joints": []any{0, 1, 2, 3}}},
		"meshes":     []any{members{"primitives": []any{members{"mode": 0, "attributes": members{"POSITION": at, "JOINTS_0": joints, "WEIGHTS_0": weights}}}}},
		"animations": []any{turn},
	})
}

func splitThigh(anchor string, segments int) Options {
	return Options{AsAsked: true, Limbs: []LimbSpec{{Name: "thigh", Joint: "thigh", End: End{Joint: "shin"}, Segments: segments, Anchor: anchor, Centre: Centre{Mode: CentreNone}}}}
}

// partTrack is the baked rotation of the first segment.
func partTrack(t *testing.T, f *File) *track {
	t.Helper()
	e, err := f.Evaluator()
	require.NoError(t, err)
	tracks := e.clips[0].nodes[e.Node("thigh_segment1")]
	require.NotNil(t, tracks)
	return tracks.rotation
}

// A joint between the anchor and the limb may mirror or stretch: the limb's own
// twist stays what it is.
func TestMirrorsBetweenAnchorAndLimb(t *testing.T) {
	for _, scale := range [][]any{{1, 1, 1}, {-1, 1, 1}, {-1, -1, -1}, {1, -1, 1}, {1, 1, 2}} {
		f := leg(t, scale, []float64{0, 1, 2}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0, 60, 120}})
		for _, anchor := range []string{"mid", "pelvis"} {
			out, report, err := Split(f, splitThigh(anchor, 2))
			require.NoError(t, err)
			require.LessOrEqual(t, report.Clips[0].ErrorMaxDeg, 0.05)
			for _, at := range []float64{0, 0.5, 1.3, 2} {
				q := partTrack(t, out).rotation(at)
				require.InDelta(t, -60*at, 2*math.Atan2(q.Jmag, q.Real)*180/math.Pi, 0.06, "scale %v, anchor %s", scale, anchor)
			}
		}
	}
}

// A step among steady channels is baked as a step: a key right before it. The
// error is what is left beside such jumps.
func TestJumpsAreBakedAsJumps(t *testing.T) {
	f := leg(t, []any{1, 1, 1}, []float64{0.5, 1, 2}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0, 60, 20}}, legChannel{node: 1, interpolation: "STEP", degrees: []float64{0, 30, 90}})
	out, report, err := Split(f, splitThigh("pelvis", 3))
	require.NoError(t, err)
	require.LessOrEqual(t, report.Clips[0].ErrorMaxDeg, 0.05)
	require.Empty(t, report.Warnings, "the jump is the clip's own")
	at := func(time float64) float64 {
		q := partTrack(t, out).rotation(time)
		return 2 * math.Atan2(q.Jmag, q.Real) * 180 / math.Pi
	}
	require.InDelta(t, -60, at(0.9999), 0.1)
	require.InDelta(t, -90, at(1), 0.1)
}

// Past half a turn a segment with half the twist has to jump, and the report
// says so; one with none or all of it does not.
func TestHalfATurn(t *testing.T) {
	f := leg(t, []any{1, 1, 1}, []float64{0, 1, 2}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0, 120, 240}})
	_, report, err := Split(f, splitThigh("", 2))
	require.NoError(t, err)
	require.Empty(t, report.Warnings)
	_, report, err = Split(f, splitThigh("", 3))
	require.NoError(t, err)
	require.Len(t, report.Warnings, 1)
	require.Contains(t, report.Warnings[0], `clip "turn": limb "thigh": at 1.500 s its twist passes half a turn and segments flip by up to 180 degrees`)
	require.LessOrEqual(t, report.Clips[0].ErrorMaxDeg, 0.05)
}

// A mesh worn under two skins, of which the second changes only one primitive,
// keeps what the copy still needs.
func TestMeshUnderTwoSkins(t *testing.T) {
	b := &small{}
	first, second := b.floats("VEC3", 3, 0, 0, 0, 0, 0.5, 0, 0, 1, 0), b.floats("VEC3", 3, 0, 0, 0, 0, 0.5, 0, 0, 0.9, 0)
	whole, half := b.floats("VEC4", 4, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0), b.floats("VEC4", 4, 1, 0, 0, 0, 0.5, 0.5, 0, 0, 0.5, 0.5, 0, 0)
	one, both := b.bytes(1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0), b.bytes(0, 0, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0)
	primitive := func(at, joints, weights int) members {
		return members{"mode": 0, "attributes": members{"POSITION": at, "JOINTS_0": joints, "WEIGHTS_0": weights}}
	}
	f := b.file(t, members{
		"nodes": []any{
			members{"name": "pelvis", "children": []any{1}}, members{"name": "thigh", "children": []any{2}},
			members{"name": "shin", "translation": []any{0, 1, 0}},
			members{"mesh": 0, "skin": 0}, members{"mesh": 0, "skin": 1},
		},
		"scenes": []any{members{"nodes": []any{0, 3, 4}}},
		"skins":  []any{members{"joints": []any{0, 1, 2}}, members{"joints": []any{1, 0, 2}}},
		"meshes": []any{members{"primitives": []any{primitive(first, one, whole), primitive(second, both, half)}}},
	})
	out, report, err := Split(f, splitThigh("", 2))
	require.NoError(t, err)
	require.LessOrEqual(t, report.RestErrorMax, 1e-6)
	require.Len(t, out.Doc.Meshes, 2)
}

func TestTwoLimbsOfOneName(t *testing.T) {
	f := leg(t, []any{1, 1, 1}, []float64{0}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0}})
	for _, n := range f.Doc.Nodes[1:3] {
		n.Name = "leg"
	}
	f.index()
	_, _, err := Split(f, Options{AsAsked: true, Limbs: []LimbSpec{
		{Name: "a", Joint: "#1", End: End{Joint: "shin"}}, {Name: "b", Joint: "#2", End: End{Joint: "shin"}},
	}})
	require.EqualError(t, err, `small.glb: limb "b": another limb makes a joint called "leg_segment1" too, expected joints with names of their own`)
}

func TestIntegerWeightsHaveToBeNormalised(t *testing.T) {
	f := leg(t, []any{1, 1, 1}, []float64{0}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0}})
	f.Doc.Accessors[2].ComponentType = 5121
	_, err := f.skinnedPrimitive(f.Doc.Meshes[0].Primitives[0], 4)
	require.ErrorContains(t, err, "WEIGHTS_0: accessor 2 holds integers that are not normalized")
}
