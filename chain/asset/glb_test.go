package asset

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// glbOf lays out a .glb of one binary chunk.
func glbOf(t require.TestingT, root, bin []byte) []byte {
	data, err := encodeGLB(root, nonEmpty(bin), nil)
	require.NoError(t, err)
	return data
}

// The header of a .glb has 32 bits for its length (glTF 2.0, section 4.4.2).
func TestGLBOfMoreThanItsHeaderCanSay(t *testing.T) {
	size, err := glbSize([]int{8, math.MaxInt32, math.MaxInt32 - 19})
	require.NoError(t, err)
	require.EqualValues(t, uint32(math.MaxUint32), size)
	_, err = glbSize([]int{9, math.MaxInt32, math.MaxInt32 - 19})
	require.EqualError(t, err, "takes 4294967296 bytes as a .glb, expected 4294967295 at most; as a .gltf it may be larger")
}

// wholeGLB is whole as a .glb with the first buffer in its BIN chunk.
func wholeGLB(t require.TestingT) []byte {
	root := whole(t)
	bin, err := decodeDataURI(root["buffers"].([]any)[0].(map[string]any)["uri"].(string))
	require.NoError(t, err)
	edited(t, root, "buffers.0.uri", "")
	return glbOf(t, encoded(t, root), bin)
}

func TestDecodeGLB(t *testing.T) {
	f, err := Decode("x.glb", wholeGLB(t), nil)
	require.NoError(t, err)
	require.True(t, f.binary)
	require.Len(t, f.Doc.Buffers[0].Data, 108)
	joints, err := f.joints(1)
	require.NoError(t, err)
	require.Equal(t, [][4]uint16{{0}, {1}, {2}}, joints)
}

// A file cut anywhere, or with a byte more, gives one line.
func TestDecodeGLBTruncated(t *testing.T) {
	data := wholeGLB(t)
	for n := range data {
		_, err := Decode("x.glb", data[:n], nil)
		require.Error(t, err, n)
		require.NotContains(t, err.Error(), "\n")
		// With a length in the header that fits, the chunks tell.
		if n >= glbHeaderSize {
			cut := append([]byte{}, data[:n]...)
			binary.LittleEndian.PutUint32(cut[8:], uint32(n))
			_, err = Decode("x.glb", cut, nil)
			require.Error(t, err, n)
		}
	}
	_, err := Decode("x.glb", append(data, 0), nil)
	require.ErrorContains(t, err, "its header tells of")
}

func TestDecodeGLBTruncatedText(t *testing.T) {
	data := encoded(t, whole(t))
	for n := range data {
		_, err := Decode("x.gltf", data[:n], nil)
		require.Error(t, err, n)
		require.NotContains(t, err.Error(), "\n")
	}
}

func TestDecodeGLBHeader(t *testing.T) {
	edit := func(at int, word uint32) []byte {
		data := wholeGLB(t)
		binary.LittleEndian.PutUint32(data[at:], word)
		return data
	}
	for what, test := range map[string]struct {
		data    []byte
		message string
	}{
		"version 1":           {edit(4, 1), "x.glb: is binary glTF version 1, expected 2"},
		"length":              {edit(8, 0xffffffff), "x.glb: has "},
		"JSON beyond the end": {edit(12, 0xfffffff0), "x.glb: chunk 0 has 4294967280 bytes, but only"},
		"BIN first":           {edit(16, chunkBinary), "x.glb: chunk 0 is of type 0x004e4942, expected JSON"},
		"no JSON":             {edit(12, 0), "x.glb: chunk 1 has "},
	} {
		_, err := Decode("x.glb", test.data, nil)
		require.ErrorContains(t, err, test.message, what)
		require.NotContains(t, err.Error(), "\n")
	}
}

func TestDecodeGLBKeepsOtherChunks(t *testing.T) {
	data := wholeGLB(t)
	data = binary.LittleEndian.AppendUint32(data, 4)
	data = binary.LittleEndian.AppendUint32(data, 0x12345678)
	data = append(data, "ours"...)
	binary.LittleEndian.PutUint32(data[8:], uint32(len(data)))
	f, err := Decode("x.glb", data, nil)
	require.NoError(t, err)
	require.Equal(t, []chunk{{kind: 0x12345678, data: []byte("ours")}}, f.extra)
}

func TestOpen(t *testing.T) {
	dir := t.TempDir()
	root := whole(t)
	bin, err := decodeDataURI(root["buffers"].([]any)[0].(map[string]any)["uri"].(string))
	require.NoError(t, err)
	edited(t, root, "buffers.0.uri", `"body.bin"`)
	name := filepath.Join(dir, "x.gltf")
	require.NoError(t, os.WriteFile(name, encoded(t, root), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "body.bin"), bin, 0o600))
	f, err := Open(name)
	require.NoError(t, err)
	require.Equal(t, bin, f.Doc.Buffers[0].Data)
	require.Equal(t, name, f.Name)

	// A link that leads out of the folder is not followed.
	outside := filepath.Join(t.TempDir(), "secret.bin")
	require.NoError(t, os.WriteFile(outside, bin, 0o600))
	require.NoError(t, os.Remove(filepath.Join(dir, "body.bin")))
	if os.Symlink(outside, filepath.Join(dir, "body.bin")) == nil {
		_, err = Open(name)
		require.ErrorContains(t, err, "buffer 0: ")
	}
	_, err = Open(filepath.Join(dir, "none.glb"))
	require.ErrorIs(t, err, os.ErrNotExist)
}

// The JSON is kept as it came.
func TestDecodeKeepsJSON(t *testing.T) {
	text := `{"asset":{"version":"2.0","x":1.50},"nodes":[{"scale":[0,0,0],"y":{"z":1e2}}]}`
	f, err := Decode("x.gltf", []byte(text), nil)
	require.NoError(t, err)
	require.Equal(t, json.RawMessage(`[{"scale":[0,0,0],"y":{"z":1e2}}]`), f.root["nodes"])
	require.Equal(t, json.RawMessage(`{"version":"2.0","x":1.50}`), f.root["asset"])
}

func TestNode(t *testing.T) {
	f := decodeSkeleton(t, "arm\n\tforearm\n\t\thand\n\tarm\n\t#7\n\ttwice?\n\ttwice")
	for name, want := range map[string]int{"forearm": 1, "#2": 2, "#7": 4, "twice": 6, "#5": 5, "body": 7} {
		node, err := f.node(name)
		require.NoError(t, err)
		require.Equal(t, want, node, name)
		if name[0] != '#' {
			require.Equal(t, name, f.ref(want))
		}
	}
	require.Equal(t, "#0", f.ref(0))
	require.Equal(t, "#5", f.ref(5))
	for name, message := range map[string]string{
		"arm":     `2 nodes are called "arm", expected one of them by its index: #0, #3`,
		"#8":      `there is no node "#8", expected #0 to #7`,
		"#x":      `there is no node "#x", expected #0 to #7`,
		"for arm": `there is no node "for arm", expected a joint's name, such as "forearm"`,
		"zzzzzz":  `there is no node "zzzzzz", expected a joint's name or its index, as in "#0"`,
		"":        `there is no node "", expected a joint's name or its index, as in "#0"`,
		"a\nb":    `there is no node "a\nb"`,
	} {
		_, err := f.node(name)
		require.ErrorContains(t, err, message)
		require.False(t, strings.Contains(err.Error(), "\n"))
	}
}
