package asset

import (
	"encoding/binary"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// withData makes a file of one buffer with one view of all of it and one
// accessor.
func withData(t require.TestingT, data []byte, stride int, accessor string) *File {
	b := gltf.Buffer{Data: data}
	b.EmbeddedResource()
	text := fmt.Sprintf(`{"asset":{"version":"2.0"},"buffers":[{"byteLength":%d,"uri":%q}],
		"bufferViews":[{"buffer":0,"byteLength":%d,"byteStride":%d}],"accessors":[%s]}`, len(data), b.URI, len(data), stride, accessor)
	f, err := Decode("x.gltf", []byte(text), nil)
	require.NoError(t, err, text)
	return f
}

// Equations of glTF 2.0, section 3.11: c/127 and c/32767 with -1 at the least,
// c/255, c/65535.
func TestFloatsNormalized(t *testing.T) {
	for _, test := range []struct {
		kind int
		data []byte
		want []float64
	}{
		{5120, []byte{0x80, 0x81, 0xff, 0, 1, 127}, []float64{-1, -1, -1. / 127, 0, 1. / 127, 1}},
		{5121, []byte{0, 1, 128, 255}, []float64{0, 1. / 255, 128. / 255, 1}},
		{5122, []byte{0, 0x80, 1, 0x80, 0xff, 0xff, 0xff, 0x7f}, []float64{-1, -1, -1. / 32767, 1}},
		{5123, []byte{0, 0, 1, 0, 0xff, 0xff}, []float64{0, 1. / 65535, 1}},
	} {
		f := withData(t, test.data, 0, fmt.Sprintf(`{"bufferView":0,"componentType":%d,"normalized":true,"count":%d,"type":"SCALAR"}`, test.kind, len(test.want)))
		got, err := f.floats(0, 1)
		require.NoError(t, err)
		require.Equal(t, test.want, got)
	}
}

func TestFloatsRefuses(t *testing.T) {
	f := withData(t, make([]byte, 32), 0, `{"bufferView":0,"componentType":5126,"count":2,"type":"VEC4"}`)
	_, err := f.floats(0, 3)
	require.EqualError(t, err, "accessor 0 is of type VEC4, expected VEC3")
	_, err = f.joints(0)
	require.EqualError(t, err, "accessor 0 holds FLOAT, expected UNSIGNED_BYTE or UNSIGNED_SHORT")
	_, err = f.matrices(0)
	require.EqualError(t, err, "accessor 0 is of type VEC4, expected MAT4")

	f = withData(t, make([]byte, 32), 0, `{"bufferView":0,"componentType":5126,"count":1,"type":"MAT2"}`)
	_, err = f.floats(0, 4)
	require.EqualError(t, err, "accessor 0 is of type MAT2, expected VEC4")

	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		data := binary.LittleEndian.AppendUint32(make([]byte, 8), math.Float32bits(float32(bad)))
		f = withData(t, data, 0, `{"bufferView":0,"componentType":5126,"count":3,"type":"SCALAR"}`)
		_, err = f.floats(0, 1)
		require.EqualError(t, err, fmt.Sprintf("accessor 0: element 2 holds %g, expected finite numbers", bad))
	}
}

func TestMatrices(t *testing.T) {
	encode := func(m mgl64.Mat4) *File {
		var data []byte
		for _, x := range m {
			data = binary.LittleEndian.AppendUint32(data, math.Float32bits(float32(x)))
		}
		return withData(t, data, 0, `{"bufferView":0,"componentType":5126,"count":1,"type":"MAT4"}`)
	}
	m := mgl64.Translate3D(1, 2, 3)
	m[3], m[15] = 0.0005, 1.0005
	got, err := encode(m).matrices(0)
	require.NoError(t, err)
	require.Equal(t, []mgl64.Mat4{mgl64.Translate3D(1, 2, 3)}, got)
	m[7] = 0.5
	_, err = encode(m).matrices(0)
	require.ErrorContains(t, err, "accessor 0: matrix 0 has the fourth row")
	require.ErrorContains(t, err, "0.5 0 1.000499963760376, expected 0 0 0 1")
}

func TestFloatsShared(t *testing.T) {
	f := withData(t, make([]byte, 32), 0, `{"bufferView":0,"componentType":5126,"count":2,"type":"VEC4"}`)
	a, err := f.floats(0, 4)
	require.NoError(t, err)
	b, err := f.floats(0, 4)
	require.NoError(t, err)
	require.Same(t, &a[0], &b[0])
}

// However many goroutines ask for an accessor at a time, it is read and paid for
// once: two times this one is more than the file may ask for.
func TestFloatsArePaidForOnce(t *testing.T) {
	const count = decodedBeyond / 8
	f := withData(t, make([]byte, 4), 0, fmt.Sprintf(`{"componentType":5126,"count":%d,"type":"SCALAR"}`, count))
	start := make(chan struct{})
	var all sync.WaitGroup
	var failed atomic.Int32
	for range 128 {
		all.Go(func() {
			<-start
			if out, err := f.floats(0, 1); err != nil || len(out) != count {
				failed.Add(1)
			}
		})
	}
	close(start)
	all.Wait()
	require.Zero(t, failed.Load(), "refused")
	require.EqualValues(t, 8*count, f.decoded.bytes)
}

// What cannot be read holds no memory, and goes on telling why.
func TestFloatsThatFailAreNotPaidFor(t *testing.T) {
	f := withData(t, []byte{0, 0, 0xc0, 0x7f}, 0, `{"bufferView":0,"componentType":5126,"count":1,"type":"SCALAR"}`)
	for range 2 {
		_, err := f.floats(0, 1)
		require.EqualError(t, err, "accessor 0: element 0 holds NaN, expected finite numbers")
	}
	require.Zero(t, f.decoded.bytes)
}

// floatsAgree compares with qmuntal/gltf's own reader: random accessors of all
// component types, interleaved and offset. Where no stride is given that reader
// pads vectors of bytes and shorts, so there always is one here; and it does not
// step over the gaps between single bytes, which are left out.
func floatsAgree(t *rapid.T) {
	kinds := map[int]int{5120: 1, 5121: 1, 5122: 2, 5123: 2, 5125: 4, 5126: 4}
	kind := rapid.SampledFrom([]int{5120, 5121, 5122, 5123, 5125, 5126}).Draw(t, "component type")
	components := rapid.IntRange(1, 4).Draw(t, "components")
	if kinds[kind] == 1 && components == 1 {
		components = 2
	}
	size := kinds[kind] * components
	stride := (size+3)/4*4 + 4*rapid.IntRange(0, 3).Draw(t, "gap")
	count := rapid.IntRange(1, 9).Draw(t, "count")
	offset := 4 * rapid.IntRange(0, 3).Draw(t, "offset")
	shape := typeName(components)
	data := rapid.SliceOfN(rapid.Byte(), offset+stride*count+size, -1).Draw(t, "data")
	if kind == 5126 {
		for i := 3; i < len(data); i += 4 {
			data[i] &= 0xbf // no exponent of all ones: finite
		}
	}
	accessor := fmt.Sprintf(`{"bufferView":0,"byteOffset":%d,"componentType":%d,"count":%d,"type":%q}`, offset, kind, count, shape)
	f := withData(t, data, stride, accessor)
	got, err := f.floats(0, components)
	require.NoError(t, err)
	read, err := modeler.ReadAccessor(f.Doc, f.Doc.Accessors[0], nil)
	require.NoError(t, err)
	require.Equal(t, flatten(read, kind == 5126), got)
}

// flatten turns what modeler.ReadAccessor returns into numbers.
func flatten(read any, single bool) []float64 {
	bits := 64
	if single {
		bits = 32
	}
	var out []float64
	separators := func(r rune) bool { return r == '[' || r == ']' || r == ' ' }
	for _, field := range strings.FieldsFunc(fmt.Sprint(read), separators) {
		x, err := strconv.ParseFloat(field, bits)
		if err != nil {
			panic(err)
		}
		out = append(out, x)
	}
	return out
}

func TestFloatsAgreeWithModeler(t *testing.T) { rapid.Check(t, floatsAgree) }

// FuzzDecode reads anything: one line of error, or a file whose every accessor
// can be read or refused, and whose limbs can be looked for.
func FuzzDecode(f *testing.F) {
	f.Add(wholeGLB(f))
	f.Add(encoded(f, whole(f)))
	f.Add(skinned(skeleton("root\n\tarm_l\n\t\tforearm_l\n\t\t\thand_l")))
	f.Add([]byte(`{"asset":{"version":"2.0"},"nodes":[{"children":[1]},{"children":[0]}]}`))
	f.Add([]byte(`{"asset":{"version":"2.0"},"accessors":[{"componentType":5126,"count":4000000000,"type":"MAT4"}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := Decode("x.glb", data, nil)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			require.NotContains(t, err.Error(), "no check foresaw")
			return
		}
		for i, a := range file.Doc.Accessors {
			file.floats(i, a.Type.Components())
			file.joints(i)
			file.matrices(i)
		}
		Detect(file)
	})
}

func BenchmarkDecode(b *testing.B) {
	data := largeGLB(b, 50_000, 10)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		f, err := Decode("x.glb", data, nil)
		if err == nil {
			_, err = Detect(f)
		}
		if err != nil {
			b.Fatal(err)
		}
	}
}

// largeGLB is a character of many vertices over sixty joints, each of which
// every clip moves with a hundred keys.
func largeGLB(t require.TestingT, vertices, clips int) []byte {
	const joints, keys = 60, 100
	var bin []byte
	var views, accessors, nodes, channels, samplers, animations []string
	add := func(size, count int, kind int, shape string) int {
		views = append(views, fmt.Sprintf(`{"buffer":0,"byteOffset":%d,"byteLength":%d}`, len(bin), size*count))
		accessors = append(accessors, fmt.Sprintf(`{"bufferView":%d,"componentType":%d,"count":%d,"type":%q}`, len(views)-1, kind, count, shape))
		bin = append(bin, make([]byte, size*count)...)
		return len(accessors) - 1
	}
	add(12, vertices, 5126, "VEC3")
	add(8, vertices, 5123, "VEC4")
	at := len(bin)
	add(16, vertices, 5126, "VEC4")
	for v := range vertices {
		binary.LittleEndian.PutUint32(bin[at+16*v:], math.Float32bits(1))
		binary.LittleEndian.PutUint16(bin[12*vertices+8*v:], uint16(v%joints))
	}
	names := []string{"root", "arm_l", "forearm_l", "hand_l"}
	for j := range joints {
		name := fmt.Sprintf("joint%d", j)
		if j < len(names) {
			name = names[j]
		}
		children := ""
		if j+1 < joints {
			children = fmt.Sprintf(`,"children":[%d]`, j+1)
		}
		nodes = append(nodes, fmt.Sprintf(`{"name":%q,"translation":[0,0.1,0]%s}`, name, children))
	}
	nodes = append(nodes, `{"mesh":0,"skin":0}`)
	for range clips {
		channels, samplers = nil, nil
		input := add(4, keys, 5126, "SCALAR")
		for j := range joints {
			samplers = append(samplers, fmt.Sprintf(`{"input":%d,"output":%d}`, input, add(16, keys, 5126, "VEC4")))
			channels = append(channels, fmt.Sprintf(`{"sampler":%d,"target":{"node":%d,"path":"rotation"}}`, j, j))
		}
		animations = append(animations, fmt.Sprintf(`{"channels":[%s],"samplers":[%s]}`, strings.Join(channels, ","), strings.Join(samplers, ",")))
	}
	var indices []string
	for j := range joints {
		indices = append(indices, fmt.Sprint(j))
	}
	root := fmt.Sprintf(`{"asset":{"version":"2.0"},"buffers":[{"byteLength":%d}],"bufferViews":[%s],"accessors":[%s],"nodes":[%s],
		"skins":[{"joints":[%s]}],"meshes":[{"primitives":[{"attributes":{"POSITION":0,"JOINTS_0":1,"WEIGHTS_0":2}}]}],"animations":[%s]}`,
		len(bin), strings.Join(views, ","), strings.Join(accessors, ","), strings.Join(nodes, ","), strings.Join(indices, ","), strings.Join(animations, ","))
	return glbOf(t, []byte(root), bin)
}
