package player

import (
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
)

// rounding allows for the float32 numbers in a file of a few metres.
const rounding = 1e-6

// pack lays values out as little-endian bytes.
func pack(values ...any) []byte {
	var b []byte
	for _, v := range values {
		b, _ = binary.Append(b, binary.LittleEndian, v)
	}
	return b
}

// arm is a file with two joints, the second one metre up +Y, three vertices
// (on the lower joint, half and half, on the upper) and a clip that turns the
// upper joint 90° about z. Its skinned node stands far away, which must not
// matter. The verbs are the buffer's size and its URI property.
const arm = `{"asset":{"version":"2.0"},"scene":0,"scenes":[{"nodes":[0,2]}],
"nodes":[{"name":"lower","translation":[1,0,0],"children":[1]},{"name":"upper","translation":[0,1,0]},
 {"name":"body","mesh":0,"skin":0,"translation":[100,100,100]}],
"skins":[{"joints":[0,1],"inverseBindMatrices":3}],
"meshes":[{"primitives":[{"attributes":{"POSITION":0,"JOINTS_0":1,"WEIGHTS_0":2}}]}],
"animations":[{"name":"turn","channels":[{"sampler":0,"target":{"node":1,"path":"rotation"}}],
 "samplers":[{"input":4,"output":5}]}],
"accessors":[
 {"bufferView":0,"componentType":5126,"count":3,"type":"VEC3"},
 {"bufferView":1,"componentType":5121,"count":3,"type":"VEC4"},
 {"bufferView":1,"byteOffset":4,"componentType":5121,"normalized":true,"count":3,"type":"VEC4"},
 {"bufferView":2,"componentType":5126,"count":2,"type":"MAT4"},
 {"bufferView":3,"componentType":5126,"count":2,"type":"SCALAR"},
 {"bufferView":4,"componentType":5122,"normalized":true,"count":2,"type":"VEC4"}],
"bufferViews":[
 {"buffer":0,"byteOffset":0,"byteLength":36},
 {"buffer":0,"byteOffset":36,"byteLength":24,"byteStride":8},
 {"buffer":0,"byteOffset":60,"byteLength":128},
 {"buffer":0,"byteOffset":188,"byteLength":8},
 {"buffer":0,"byteOffset":196,"byteLength":16}],
"buffers":[{"byteLength":%d%s}]}`

func armBytes() []byte {
	var b []byte
	b = append(b, pack([9]float32{1, 0.5, 0, 1, 1.5, 0, 1, 2, 0})...)
	b = append(b, 0, 0, 0, 0, 255, 0, 0, 0)  // all on joint 0
	b = append(b, 0, 1, 0, 0, 51, 204, 0, 0) // a fifth and four fifths
	b = append(b, 9, 9, 1, 9, 0, 0, 255, 0)  // all on joint 1, in the third place
	for _, shift := range []float64{0, -1} { // the lower joint at x = 1, the upper one metre above it
		for _, x := range mgl64.Translate3D(-1, shift, 0) {
			b = append(b, pack(float32(x))...)
		}
	}
	b = append(b, pack([2]float32{0, 2})...)
	return append(b, pack([8]int16{0, 0, 0, 32767, 0, 0, 23170, 23170})...)
}

// glb wraps a text and its buffer: glTF 2.0 specification, section 4.4.
func glb(text string, data []byte) []byte {
	for len(text)%4 != 0 {
		text += " "
	}
	for len(data)%4 != 0 {
		data = append(data, 0)
	}
	out := pack([]byte("glTF"), uint32(2), uint32(28+len(text)+len(data)), uint32(len(text)), []byte("JSON"), []byte(text))
	return append(out, pack(uint32(len(data)), []byte("BIN\x00"), data)...)
}

func loadArm(t *testing.T) *Scene {
	s, err := Load(glb(fmt.Sprintf(arm, len(armBytes()), ""), armBytes()))
	require.NoError(t, err)
	return s
}

func requireVertices(t *testing.T, want, got [][3]float64) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		require.InDeltaSlice(t, want[i][:], got[i][:], rounding, "vertex %d", i)
	}
}

func TestSkinningFollowsTheSpecification(t *testing.T) {
	// glTF 2.0 specification, section 3.7.3: vertices follow world times
	// inverse bind matrices; the skinned node's own transform is ignored.
	s := loadArm(t)
	require.Equal(t, []string{"turn"}, s.Clips())
	require.InDelta(t, 2.0, s.Duration("turn"), 0)
	require.InDelta(t, 1.5, s.Height(), rounding)
	requireVertices(t, [][3]float64{{1, 0.5, 0}, {1, 1.5, 0}, {1, 2, 0}}, s.Pose("", 0).Vertices())
	// Turned by 90° the upper half points to -x; the blend is a fifth of the
	// way back to its rest place.
	requireVertices(t, [][3]float64{{1, 0.5, 0}, {0.6, 1.1, 0}, {0, 1, 0}}, s.Pose("turn", 2).Vertices())
	// Halfway, by slerp, it has turned by 45°.
	h := math.Sqrt(0.5)
	requireVertices(t, [][3]float64{{1, 0.5, 0}, {1 - 0.4*h, 0.3 + 0.8 + 0.4*h, 0}, {1 - h, 1 + h, 0}}, s.Pose("turn", 1).Vertices())
	up := s.Pose("turn", 9).World("upper").Mul4x1(mgl64.Vec4{0, 1, 0, 1})
	require.InDeltaSlice(t, []float64{0, 1, 0, 1}, up[:], rounding)
	require.Equal(t, []float64{0, 2}, s.Keys("turn", "upper", "rotation"))
	require.Nil(t, s.Keys("turn", "lower", "rotation"))
	influences := s.Influences()
	require.Len(t, influences, 3)
	require.Equal(t, "upper", influences[1][1].Joint)
	require.InDelta(t, 0.8, influences[1][1].Weight, exact)
	require.Len(t, influences[2], 1)
}

func TestRadiusOfATwistedSection(t *testing.T) {
	// Linear-blend skinning shrinks a section to
	// sqrt(1 - 4w(1-w) sin²(θ/2)) of its radius (Kavan 2014, Direct Skinning
	// Methods, SIGGRAPH course; derived). Here w = 4/5, θ = 90°.
	s := loadArm(t)
	v := s.Pose("turn", 2).Vertices()[1]
	radius := math.Hypot(v[0]-1, v[1]-1) / 0.5
	require.InDelta(t, math.Sqrt(1-4*0.8*0.2*0.5), radius, rounding)
}

func TestBuffersAreFoundWhereverTheyAre(t *testing.T) {
	want := loadArm(t).Pose("turn", 1.3).Vertices()
	data := armBytes()
	inline := fmt.Sprintf(arm, len(data), `,"uri":"data:application/gltf-buffer;base64,`+base64.StdEncoding.EncodeToString(data)+`"`)
	s, err := Load([]byte(inline))
	require.NoError(t, err)
	requireVertices(t, want, s.Pose("turn", 1.3).Vertices())

	beside := []byte(fmt.Sprintf(arm, len(data), `,"uri":"an%20arm.bin"`))
	s, err = LoadFrom(beside, fstest.MapFS{"an arm.bin": {Data: data}})
	require.NoError(t, err)
	requireVertices(t, want, s.Pose("turn", 1.3).Vertices())
	_, err = Load(beside)
	require.ErrorContains(t, err, "an%20arm.bin")
	_, err = LoadFrom(beside, os.DirFS(t.TempDir()))
	require.ErrorIs(t, err, os.ErrNotExist)
}

func TestLoadRefusesWhatDoesNotFit(t *testing.T) {
	data := armBytes()
	text := fmt.Sprintf(arm, len(data), "")
	for name, c := range map[string]struct{ old, new string }{
		"a vertex outside the view": {`"count":3,"type":"VEC3"`, `"count":4,"type":"VEC3"`},
		"a view outside the buffer": {`"byteOffset":196,"byteLength":16`, `"byteOffset":196,"byteLength":17`},
		"a cycle":                   {`"name":"upper",`, `"name":"upper","children":[0],`},
		"too few weights":           {`"WEIGHTS_0":2`, `"WEIGHTS_1":2`},
		"a joint out of range":      {`"joints":[0,1]`, `"joints":[0,7]`},
		"too few inverse matrices":  {`"joints":[0,1]`, `"joints":[0,1,1]`},
		"an unknown type":           {`"type":"MAT4"`, `"type":"MAT3"`},
	} {
		require.Contains(t, text, c.old, name)
		_, err := Load(glb(strings.Replace(text, c.old, c.new, 1), data))
		require.Error(t, err, name)
	}
	whole := glb(text, data)
	_, err := Load(whole[:len(whole)-4])
	require.ErrorContains(t, err, "length")
}
