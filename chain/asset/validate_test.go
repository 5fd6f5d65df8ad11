package asset

import (
	"encoding/json"
	"fmt"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/qmuntal/gltf"
	"github.com/stretchr/testify/require"
)

// whole is a .gltf with something of everything: three joints, a skinned mesh
// with indices, a sparse accessor, a clip, a camera, extras and an extension.
func whole(t require.TestingT) map[string]any {
	var root map[string]any
	require.NoError(t, json.Unmarshal(skinned(skeleton("a\n\tb\n\t\tc")), &root))
	parse := func(text string) any {
		var value any
		require.NoError(t, json.Unmarshal([]byte(text), &value))
		return value
	}
	root["scenes"] = parse(`[{"nodes": [0, 3]}]`)
	root["scene"] = 0
	root["extras"] = parse(`{"Nodes": [null], "nested": {"a": [1, {"b": null}]}}`)
	root["buffers"] = append(root["buffers"].([]any), parse(`{"byteLength": 24, "uri": "data:,%00%00%00%00%00%00%80?%00%00%00@%02%00%00%00%00%00%00%00%00%00%00%00"}`))
	root["bufferViews"] = append(root["bufferViews"].([]any), parse(`{"buffer": 1, "byteLength": 24}`))
	root["accessors"] = append(root["accessors"].([]any),
		parse(`{"bufferView": 1, "componentType": 5126, "count": 3, "type": "SCALAR", "min": [0], "max": [2]}`),
		parse(`{"componentType": 5126, "count": 3, "type": "VEC4", "sparse": {"count": 1,
			"indices": {"bufferView": 1, "byteOffset": 12, "componentType": 5123}, "values": {"bufferView": 1, "byteOffset": 8}}}`),
		parse(`{"bufferView": 1, "byteOffset": 16, "componentType": 5121, "count": 3, "type": "SCALAR"}`))
	root["animations"] = parse(`[{"samplers": [{"input": 3, "output": 4}], "channels": [{"sampler": 0, "target": {"node": 1, "path": "rotation"}}]}]`)
	root["meshes"].([]any)[0].(map[string]any)["primitives"].([]any)[0].(map[string]any)["indices"] = 5
	root["cameras"] = parse(`[{"type": "perspective", "perspective": {"yfov": 1, "znear": 0.1}}]`)
	return root
}

// edited sets one value of a document, by a path such as "nodes.2.mesh"; the
// empty value takes it away.
func edited(t require.TestingT, root any, path, value string) any {
	key, rest, more := strings.Cut(path, ".")
	next := func(old any) any {
		if more {
			return edited(t, old, rest, value)
		}
		return json.RawMessage(value)
	}
	switch at := root.(type) {
	case map[string]any:
		if value == "" && !more {
			delete(at, key)
		} else {
			at[key] = next(at[key])
		}
	case []any:
		i, err := strconv.Atoi(key)
		require.NoError(t, err)
		if i == len(at) {
			return append(at, next(map[string]any{}))
		}
		at[i] = next(at[i])
	case nil:
		return edited(t, map[string]any{}, path, value)
	default:
		require.Failf(t, "no such place", "%s in %T", path, root)
	}
	return root
}

func encoded(t require.TestingT, root any) []byte {
	data, err := json.Marshal(root)
	require.NoError(t, err)
	return data
}

func TestDecodeWhole(t *testing.T) {
	f, err := Decode("whole.gltf", encoded(t, whole(t)), nil)
	require.NoError(t, err)
	require.Equal(t, []int{-1, 0, 1, -1}, f.parent)
	times, err := f.floats(3, 1)
	require.NoError(t, err)
	require.Equal(t, []float64{0, 1, 2}, times)
	values, err := f.floats(4, 4)
	require.NoError(t, err)
	require.Equal(t, []float64{0, 0, 0, 0, 0, 0, 0, 0, 2}, values[:9])
}

func TestDecodeRefuses(t *testing.T) {
	for _, test := range []struct{ path, value, message string }{
		{"asset", ``, "has no asset.version, expected a glTF 2.0 file"},
		{"asset.version", `"1.0"`, `asset.version is "1.0", expected 2.0`},
		{"asset.minVersion", `"2.1"`, `asset.minVersion is "2.1", expected 2.0 at most`},

		{"accessors.0.count", `4000000000`, "accessor 0: count 4000000000 needs 144 GB, buffer view 0 holds 108 bytes from byteOffset 0"},
		{"accessors.0.count", `9223372036854775807`, "accessor 0: count 9223372036854775807 needs 3.32e+05 PB"},
		{"accessors.0.count", `-1`, "accessor 0: count -1, byteOffset 0, expected 0 or more"},
		{"accessors.0.count", `1e300`, "JSON: accessors.count is a number 1e300, expected a whole number"},
		{"accessors.0.count", ``, "accessor 0 has no count"},
		{"accessors.0.count", `4`, "accessor 0: count 4 needs 144 bytes, buffer view 0 holds 108 bytes from byteOffset 0"},
		{"accessors.0.byteOffset", `-4`, "accessor 0: count 3, byteOffset -4, expected 0 or more"},
		{"accessors.0.byteOffset", `1e9`, "JSON: accessors.byteOffset is a number 1e9, expected a whole number"},
		{"accessors.0.byteOffset", `1000000000`, "accessor 0: byteOffset 1000000000 lies beyond buffer view 0 of 108 bytes"},
		{"accessors.0.byteOffset", `9223372036854775807`, "accessor 0: byteOffset 9223372036854775807 lies beyond"},
		{"accessors.0.bufferView", `2`, "accessor 0: buffer view is 2, expected one of 2"},
		{"accessors.0.bufferView", `-1`, "accessor 0: buffer view is -1, expected one of 2"},
		{"accessors.0.componentType", `5124`, "accessor 0 has componentType 5124, expected one of [5120 5121 5122 5123 5125 5126]"},
		{"accessors.0.componentType", ``, "accessor 0 has no componentType"},
		{"accessors.0.type", `"VEC5"`, "JSON: gltf: unknown accessor's type: VEC5"},
		{"accessors.0.type", `"A\nB"`, `JSON: gltf: unknown accessor's type: A\nB`},
		{"accessors.0.type", ``, "accessor 0 has no type"},
		{"accessors.0.type", `"MAT4"`, "accessor 0: an element of 64 bytes does not fit byteStride 36 of buffer view 0"},
		{"accessors.0", `null`, "JSON: accessors[0] is null, expected a value"},
		{"accessors.4.sparse.count", `4`, "accessor 4: sparse: count 4 of 3"},
		{"accessors.4.sparse.count", `0`, "accessor 4: sparse: count 0 of 3"},
		{"accessors.4.sparse.count", ``, "accessor 4 has no sparse.count"},
		{"accessors.4.sparse.count", `2`, "accessor 4: sparse: values: count 2 needs 32 bytes, buffer view 1 holds 16 bytes from byteOffset 8"},
		{"accessors.4.sparse.indices.componentType", `5126`, "accessor 4: sparse.indices.componentType is 5126, expected 5121, 5123 or 5125"},
		{"accessors.4.sparse.indices.byteOffset", `7`, "accessor 4: sparse: index 0 is 63, expected more than -1 and under 3"},
		{"accessors.4.sparse.indices.byteOffset", `24`, "accessor 4: sparse: indices: count 1 needs 2 bytes"},
		{"accessors.4.sparse.indices.bufferView", `7`, "accessor 4: sparse: indices: buffer view is 7, expected one of 2"},
		{"accessors.4.sparse.values", ``, "accessor 4 has no sparse.values.bufferView"},
		{"accessors.4.sparse.values.byteOffset", `-1`, "accessor 4: sparse: count 1 of 3, byteOffsets 12 and -1"},

		{"bufferViews.0.buffer", `2`, "buffer view 0: buffer is 2, expected one of 2"},
		{"bufferViews.0.buffer", ``, "buffer view 0 has no buffer"},
		{"bufferViews.0.byteLength", `109`, "buffer view 0: byteOffset 0 and byteLength 109 do not lie in buffer 0 of 108 bytes"},
		{"bufferViews.0.byteLength", `0`, "buffer view 0: byteOffset 0 and byteLength 0 do not lie in buffer 0 of 108 bytes"},
		{"bufferViews.0.byteOffset", `9223372036854775807`, "buffer view 0: byteOffset 9223372036854775807 and byteLength 108 do not lie"},
		{"bufferViews.0.byteOffset", `-1`, "buffer view 0: byteOffset -1 and byteLength 108 do not lie"},
		{"bufferViews.0.byteStride", `2`, "buffer view 0: byteStride is 2, expected a multiple of 4 from 4 to 252"},
		{"bufferViews.0.byteStride", `-36`, "buffer view 0: byteStride is -36"},
		{"bufferViews.0.byteStride", `8`, "accessor 0: an element of 12 bytes does not fit byteStride 8 of buffer view 0"},
		{"images", `[{"bufferView": 2}]`, "image 0: bufferView is 2, expected one of 2"},

		{"buffers.0.byteLength", `1e300`, "JSON: buffers.byteLength is a number 1e300, expected a whole number"},
		{"buffers.0.byteLength", `-1`, "buffer 0: byteLength is -1, expected 1 or more"},
		{"buffers.0.byteLength", `0`, "buffer 0: byteLength is 0, expected 1 or more"},
		{"buffers.0.byteLength", `109`, "buffer 0: byteLength is 109, but there are only 108 bytes"},
		{"buffers.0.byteLength", `9223372036854775807`, "buffer 0: byteLength is 9223372036854775807, but there are only 108 bytes"},
		{"buffers.0.byteLength", ``, "buffer 0 has no byteLength"},
		{"buffers.0.uri", ``, "buffer 0: has no uri, and there is no BIN chunk for it"},
		{"buffers.0.uri", `"data:application/octet-stream;base64,@@@@"`, "buffer 0: its data URI is not base64: illegal base64 data at input byte 0"},
		{"buffers.0.uri", `"data:application/octet-stream"`, "buffer 0: its data URI has no comma"},
		{"buffers.0.uri", `"body.bin"`, `buffer 0: refers to the file "body.bin", expected the data within: there is no folder to look in`},
		{"buffers.0.uri", `"../body.bin"`, `buffer 0: uri is "../body.bin", expected a data URI or the relative path of a file beside this one`},
		{"buffers.0.uri", `"a/%2e%2e/%2e%2e/body.bin"`, `expected a data URI or the relative path`},
		{"buffers.0.uri", `"..\\body.bin"`, `expected a data URI or the relative path`},
		{"buffers.0.uri", `"/etc/passwd"`, `expected a data URI or the relative path`},
		{"buffers.0.uri", `"file:///etc/passwd"`, `expected a data URI or the relative path`},
		{"buffers.0.uri", `"C:\\body.bin"`, `expected a data URI or the relative path`},
		{"buffers.0.uri", `"http://example.org/body.bin"`, `expected a data URI or the relative path`},

		{"nodes.0.children", `[4]`, "node 0: child is 4, expected one of 4"},
		{"nodes.0.children", `[-1]`, "node 0: child is -1, expected one of 4"},
		{"nodes.0.children", `[1, 2]`, "node 2 is a child of node 0 and of node 1, expected one parent"},
		{"nodes.0.children", `[1, 1]`, "node 1 is a child of node 0 and of node 0, expected one parent"},
		{"nodes.0.children", `[0]`, "node 0 is its own ancestor, expected a tree"},
		{"nodes.2.children", `[0]`, "node 0 is its own ancestor, expected a tree"},
		{"nodes.3.mesh", `1`, "node 3: mesh is 1, expected one of 1"},
		{"nodes.3.skin", `-1`, "node 3: skin is -1, expected one of 1"},
		{"nodes.0.rotation", `[0, 0, 0, 0]`, "node 0: rotation [0 0 0 0] has length 0, expected a unit quaternion"},
		{"nodes.0.rotation", `[0, 0, 0, 2]`, "node 0: rotation [0 0 0 2] has length 2, expected a unit quaternion"},
		{"nodes.0.rotation", `[0, 0, 1]`, "JSON: nodes[0].rotation holds 3 numbers, expected 4"},
		{"nodes.0.translation", `[0, 0, 1e400]`, "JSON: nodes.translation is a number 1e400, expected a number"},
		{"nodes.0.translation", `[0, 0, 1e39]`, "node 0: its transform holds 1e+39, expected numbers that a float32 can hold"},
		{"nodes.0.translation", `["x", 0, 0]`, "is a string, expected a number"},
		{"nodes.0.translation", `[null, 0, 0]`, "JSON: nodes[0].translation[0] is null, expected a value"},
		{"nodes.0.scale", `[3e38, 3e38, 3e38]`, "node 2: its place in the world is out of range"},
		{"nodes.3.matrix", `[0,0,0,0, 0,0,0,0, 0,0,0,0, 0,0,0,0]`, "node 3: matrix has the fourth row 0 0 0 0, expected 0 0 0 1"},
		{"nodes.3.matrix", `[1,0,0,0]`, "JSON: nodes[3].matrix holds 4 numbers, expected 16"},
		{"nodes.1.matrix", `[2,0,0,0, 0,1,0,0, 0,0,1,0, 0,0,0,1]`, "node 1: has a matrix beside a translation, rotation or scale, expected one or the other"},
		{"nodes.0", `7`, "is a number, expected an object"},

		{"skins.0.joints", `[0, 1, 4]`, "skin 0: joints[2] is node 4, expected one of 4"},
		{"skins.0.joints", `[0, 1, 1]`, "skin 0: joints[2] is node 1 again, expected each joint once"},
		{"skins.0.joints", `[]`, "skin 0 has no joints, expected one or more"},
		{"skins.0.joints", ``, "skin 0 has no joints"},
		{"skins.0.skeleton", `4`, "skin 0: skeleton is 4, expected one of 4"},
		{"skins.0.inverseBindMatrices", `6`, "skin 0: inverseBindMatrices is 6, expected one of 6"},

		{"meshes.0.primitives.0.attributes.POSITION", `6`, "mesh 0: primitive 0: POSITION is accessor 6, expected one of 6"},
		{"meshes.0.primitives.0.attributes", ``, "mesh 0: primitive 0 has no attributes"},
		{"meshes.0.primitives.0.indices", `-1`, "mesh 0: primitive 0: indices is accessor -1, expected one of 6"},
		{"meshes.0.primitives.0.targets", `[{"POSITION": 9}]`, "mesh 0: primitive 0: POSITION is accessor 9, expected one of 6"},
		{"meshes.0.primitives.0.mode", `7`, "mesh 0: primitive 0 has mode 7, expected 0 to 6"},

		{"animations.0.channels.0.sampler", `1`, "animation 0: channel 0: sampler is 1, expected one of 1"},
		{"animations.0.channels.0.target.node", `4`, "animation 0: channel 0: node is 4, expected one of 4"},
		{"animations.0.channels.0.target.path", ``, "animation 0: channel 0 has no target.path"},
		{"animations.0.samplers.0.input", `6`, "animation 0: sampler 0: accessor is 6, expected one of 6"},
		{"animations.0.samplers.0.output", ``, "animation 0: sampler 0 has no output"},
		{"animations.0.samplers.0.interpolation", `"CUBIC"`, `animation 0: sampler 0 has interpolation "CUBIC", expected LINEAR, STEP or CUBICSPLINE`},
		{"nodes.1", `{"children": [2], "matrix": [2,0,0,0, 0,1,0,0, 0,0,1,0, 0,0,0,1]}`, "animation 0: channel 0 moves node 1, which has a matrix"},

		{"scene", `1`, "scene is 1, expected one of 1"},
		{"scenes.0.nodes", `[7]`, "scene 0: node is 7, expected one of 4"},

		{"Nodes", `[]`, `JSON: the root has the key "Nodes", expected "nodes"`},
		{"nodes.0.Children", `[]`, `JSON: nodes[0] has the key "Children", expected "children"`},
		{"node\u017f", `[]`, `expected "nodes"`}, // the long s folds to s
		{"nodes", `{}`, "JSON: nodes is an object, expected an array"},
		{"bufferViews.0.extensions", `{"EXT_meshopt_compression": {}}`, "buffer view 0 needs the extension EXT_meshopt_compression, which is not read here; expected plain accessors"},
		{"meshes.0.primitives.0.extensions", `{"KHR_draco_mesh_compression": {}}`, "mesh 0 needs the extension KHR_draco_mesh_compression"},
	} {
		t.Run(test.path+" "+test.value, func(t *testing.T) {
			data := encoded(t, edited(t, whole(t), test.path, test.value))
			_, err := Decode("x.gltf", data, nil)
			require.ErrorContains(t, err, test.message)
			require.True(t, strings.HasPrefix(err.Error(), "x.gltf: "), err)
			require.NotContains(t, err.Error(), "\n")
		})
	}
}

// What the specification allows, or what is harmless, passes.
func TestDecodeAccepts(t *testing.T) {
	for _, test := range []struct{ path, value string }{
		{"asset.version", `"2.1"`},
		{"accessors.0.count", `0`},
		{"accessors.0.bufferView", ``},
		{"nodes.0.scale", `[0, 0, 0]`},
		{"nodes.0.scale", `[-1, 1, 1]`},
		{"nodes.0.rotation", `[0, 0, 0, 1.01]`},
		{"nodes.0.name", `null`},
		{"nodes.3.matrix", `[2,0,0,0, 0,1,0,0, 0,0,1,0, 0,0,0,1.0000001]`},
		{"nodes.0.extensions", `{"X": {"Nodes": null}}`},
		{"meshes.0.primitives.0.attributes._Count", `0`},
		{"bufferViews.0.extensions", `{"X": {}}`},
		{"extensionsUsed", `["X"]`},
		{"extensionsRequired", `["KHR_texture_transform"]`},
		{"images", `[{"uri": "nowhere.png"}]`},
	} {
		_, err := Decode("x.gltf", encoded(t, edited(t, whole(t), test.path, test.value)), nil)
		require.NoError(t, err, "%s %s", test.path, test.value)
	}
}

func TestDecodeRequiredExtension(t *testing.T) {
	root := edited(t, whole(t), "accessors.0.extensions", `{"X_packed": {}}`)
	_, err := Decode("x.gltf", encoded(t, root), nil)
	require.NoError(t, err)
	_, err = Decode("x.gltf", encoded(t, edited(t, root, "extensionsRequired", `["X_packed"]`)), nil)
	require.EqualError(t, err, "x.gltf: accessor 0 needs the extension X_packed, which is not read here; expected plain accessors")
}

func TestDecodeForeignPath(t *testing.T) {
	root := edited(t, whole(t), "animations.0.channels.0.target.path", `"pointer"`)
	f, err := Decode("x.gltf", encoded(t, root), nil)
	require.NoError(t, err)
	require.Nil(t, f.Doc.Animations[0].Channels[0].Target.Node)
}

func TestDecodeText(t *testing.T) {
	good := string(encoded(t, whole(t)))
	for what, test := range map[string]struct{ data, message string }{
		"empty":          {"", "x.gltf: is empty, expected a glTF 2.0 file"},
		"not glTF":       {"hello\nworld", "x.gltf: is neither glTF JSON nor binary glTF, expected a glTF 2.0 file"},
		"UTF-16":         {"\xff\xfe{\x00}\x00", "is neither glTF JSON nor binary glTF"},
		"cut":            {good[:len(good)/2], "x.gltf: JSON: byte"},
		"trailing":       {good + "x", "x.gltf: JSON: byte"},
		"two documents":  {good + good, "x.gltf: JSON: byte"},
		"deep arrays":    {`{"asset":{"version":"2.0"},"extras":` + strings.Repeat("[", 1_000_000), "x.gltf: JSON: byte"},
		"deep objects":   {`{"extras":` + strings.Repeat(`{"a":`, 1_000_000), "x.gltf: JSON: byte"},
		"key twice":      {`{"asset":{"version":"2.0"},"nodes":[],"nodes":[]}`, `x.gltf: JSON: the root has the key "nodes" twice`},
		"escaped twice":  {`{"asset":{"version":"2.0","extras":{"a":1,"\u0061":2}}}`, `x.gltf: JSON: asset.extras has the key "a" twice`},
		"many keys":      {`{"asset":{"version":"2.0"},"extras":{` + manyKeys(40) + `"k7":1}}`, `x.gltf: JSON: extras has the key "k7" twice`},
		"null in array":  {`{"asset":{"version":"2.0"},"meshes":[{"primitives":[null]}]}`, `x.gltf: JSON: meshes[0].primitives[0] is null`},
		"an array":       {`[]`, "is neither glTF JSON nor binary glTF"},
		"a control name": {"{\"\x01\"}", "x.gltf: JSON: byte"},
	} {
		t.Run(what, func(t *testing.T) {
			_, err := Decode("x.gltf", []byte(test.data), nil)
			require.ErrorContains(t, err, test.message)
			require.NotContains(t, err.Error(), "\n")
			require.Less(t, len(err.Error()), 300)
		})
	}
	_, err := Decode("x.gltf", []byte("\xef\xbb\xbf \n"+good+"\n "), nil)
	require.NoError(t, err, "byte order mark")
	_, err = Decode("a\nb.gltf", nil, nil)
	require.EqualError(t, err, `a\nb.gltf: is empty, expected a glTF 2.0 file`)
}

func manyKeys(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, `"k%d":0,`, i)
	}
	return b.String()
}

func TestDecodeExternalBuffers(t *testing.T) {
	root := whole(t)
	embedded := root["buffers"].([]any)[0].(map[string]any)["uri"].(string)
	data, err := decodeDataURI(embedded)
	require.NoError(t, err)
	dir := fstest.MapFS{
		"sub dir/bo dy%.bin": {Data: append(data, "more than byteLength"...)},
		"short.bin":          {Data: data[:10]},
		"device.bin":         {Data: data, Mode: 0o644 | 1<<26}, // fs.ModeDevice
	}
	decode := func(uri string) (*File, error) {
		return Decode("x.gltf", encoded(t, edited(t, whole(t), "buffers.0.uri", strconv.Quote(uri))), dir)
	}
	for _, uri := range []string{"sub%20dir/bo%20dy%25.bin", "./sub%20dir/../sub%20dir/bo%20dy%25.bin", "sub dir/bo dy%.bin"} {
		f, err := decode(uri)
		require.NoError(t, err)
		require.Equal(t, data, f.Doc.Buffers[0].Data)
	}
	_, err = decode("short.bin")
	require.EqualError(t, err, "x.gltf: buffer 0: byteLength is 108, but there are only 10 bytes")
	_, err = decode("missing.bin")
	require.ErrorContains(t, err, "x.gltf: buffer 0: open missing.bin: file does not exist")
	_, err = decode("device.bin")
	require.ErrorContains(t, err, "x.gltf: buffer 0: device.bin is not a regular file")
	_, err = decode("sub%20dir")
	require.ErrorContains(t, err, "is not a regular file")
}

func TestDecodeDataURI(t *testing.T) {
	for uri, want := range map[string]string{
		"data:application/octet-stream;base64,AAEC": "\x00\x01\x02",
		"data:application/gltf-buffer;base64,AAE=":  "\x00\x01",
		"data:;base64,AAE":                          "\x00\x01",
		"DATA:;BASE64,AA%3D%3D":                     "\x00",
		"data:,a%00b":                               "a\x00b",
	} {
		require.True(t, isDataURI(uri))
		data, err := decodeDataURI(uri)
		require.NoError(t, err, uri)
		require.Equal(t, want, string(data), uri)
	}
}

// Hostile files must not cost more memory than a multiple of their size.
func TestDecodeMemoryIsBounded(t *testing.T) {
	for what, root := range map[string]any{
		"count without data": edited(t, edited(t, whole(t), "accessors.3.bufferView", ``), "accessors.3.count", `4000000000`),
		"largest count":      edited(t, edited(t, whole(t), "accessors.3.bufferView", ``), "accessors.3.count", `9223372036854775807`),
	} {
		f, err := Decode("x.gltf", encoded(t, root), nil)
		require.NoError(t, err, what)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err = f.floats(3, 1)
		runtime.ReadMemStats(&after)
		require.ErrorContains(t, err, "accessor 3: its ", what)
		require.ErrorContains(t, err, "take more memory than a file of", what)
		require.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(1<<20), what)
	}
	// A large mesh shown by very many nodes.
	many := whole(t)
	edited(t, many, "accessors.0.bufferView", ``)
	edited(t, many, "accessors.0.count", `1000000`)
	nodes := many["nodes"].([]any)
	for range 10 {
		nodes = append(nodes, map[string]any{"mesh": 0, "skin": 0})
	}
	many["nodes"] = nodes
	_, err := Decode("x.gltf", encoded(t, many), nil)
	require.ErrorContains(t, err, "more skinned vertices than a file of")
	// Many accessors over the same bytes.
	root := whole(t)
	bin := gltf.Buffer{Data: make([]byte, 1<<20)}
	bin.EmbeddedResource()
	root = edited(t, root, "buffers.2", `{"byteLength": 1048576, "uri": "`+bin.URI+`"}`).(map[string]any)
	root = edited(t, root, "bufferViews.2", `{"buffer": 2, "byteLength": 1048576}`).(map[string]any)
	for i := range 1000 {
		root = edited(t, root, "accessors."+strconv.Itoa(6+i), `{"bufferView": 2, "componentType": 5121, "count": 1048576, "type": "SCALAR"}`).(map[string]any)
	}
	f, err := Decode("x.gltf", encoded(t, root), nil)
	require.NoError(t, err)
	reads := 0
	for ; reads < 1000 && err == nil; reads++ {
		_, err = f.floats(6+reads, 1)
	}
	require.Error(t, err)
	require.Less(t, reads, decodedPerByte)
}
