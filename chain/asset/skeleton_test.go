package asset

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"strings"

	"github.com/stretchr/testify/require"
)

// A joint of a test skeleton: how deep it lies below the one above it in the
// list, its name, and where it stands beside its parent. All deform the mesh
// but those whose name ends in "!", which are joints without weights, and in
// "?", which are nodes outside the skin.
type testJoint struct {
	depth int
	name  string
	at    [3]float64
}

// skeleton parses an indented list of names. Each joint stands 1 m below its
// parent unless "@ x y z" says otherwise.
func skeleton(text string) []testJoint {
	var out []testJoint
	for line := range strings.SplitSeq(strings.Trim(text, "\n"), "\n") {
		name := strings.TrimLeft(line, "\t")
		j := testJoint{depth: len(line) - len(name), name: strings.TrimSpace(name), at: [3]float64{0, -1, 0}}
		if before, after, ok := strings.Cut(name, " @ "); ok {
			j.name = strings.TrimSpace(before)
			for i, field := range strings.Fields(after) {
				if err := json.Unmarshal([]byte(field), &j.at[i]); err != nil {
					panic(err)
				}
			}
		}
		out = append(out, j)
	}
	return out
}

// skinned makes a .gltf of a skeleton whose mesh has one vertex a joint. It is a
// strip, so that the skin of all joints is one piece.
func skinned(joints []testJoint) []byte {
	type object = map[string]any
	var nodes []object
	var inSkin []int
	var open []int // joints above the current one, by depth
	var bin []byte
	for _, j := range joints {
		index := len(nodes)
		name := strings.TrimRight(j.name, "!?")
		nodes = append(nodes, object{"name": name, "translation": j.at})
		open = append(open[:min(j.depth, len(open))], index)
		if len(open) > 1 {
			parent := nodes[open[len(open)-2]]
			children, _ := parent["children"].([]int)
			parent["children"] = append(children, index)
		}
		if !strings.HasSuffix(j.name, "?") {
			inSkin = append(inSkin, index)
		}
	}
	vertices := len(inSkin)
	for v, node := range inSkin { // position, joints, weights
		for range 3 {
			bin = binary.LittleEndian.AppendUint32(bin, math.Float32bits(float32(v)))
		}
		bin = binary.LittleEndian.AppendUint16(bin, uint16(v))
		bin = append(bin, 0, 0, 0, 0, 0, 0)
		weight := float32(1)
		if strings.HasSuffix(joints[node].name, "!") {
			weight = 0
		}
		bin = binary.LittleEndian.AppendUint32(bin, math.Float32bits(weight))
		bin = append(bin, make([]byte, 12)...)
	}
	nodes = append(nodes, object{"mesh": 0, "skin": 0, "name": "body"})
	accessor := func(offset, kind int, shape string) object {
		return object{"bufferView": 0, "byteOffset": offset, "componentType": kind, "count": vertices, "type": shape}
	}
	data, err := json.Marshal(object{
		"asset":       object{"version": "2.0"},
		"nodes":       nodes,
		"skins":       []object{{"joints": inSkin}},
		"buffers":     []object{{"byteLength": len(bin), "uri": dataURI("application/octet-stream", bin)}},
		"bufferViews": []object{{"buffer": 0, "byteLength": len(bin), "byteStride": 36}},
		"accessors":   []object{accessor(0, 5126, "VEC3"), accessor(12, 5123, "VEC4"), accessor(20, 5126, "VEC4")},
		"meshes":      []object{{"primitives": []object{{"mode": 5, "attributes": object{"POSITION": 0, "JOINTS_0": 1, "WEIGHTS_0": 2}}}}},
	})
	if err != nil {
		panic(err)
	}
	return data
}

func decodeSkeleton(t require.TestingT, text string) *File {
	f, err := Decode("test.gltf", skinned(skeleton(text)), nil)
	require.NoError(t, err)
	return f
}
