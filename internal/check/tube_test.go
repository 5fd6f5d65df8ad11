package check_test

import (
	"bytes"
	"math"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
	"github.com/stretchr/testify/require"
)

// A tube along +Y of unit radius: a torso from -1 to 0, a bone from 0 to 1, a
// shin from 1 to 2, each held by its joint whole.
const (
	around  = 64
	lengths = 64 // of the bone
)

// tube is the character; the bone's joint is called "bone".
func tube(t *testing.T) *asset.File {
	t.Helper()
	doc := gltf.NewDocument()
	var at [][3]float32
	var joints [][4]uint16
	var weights [][4]float32
	var indices []uint32
	rings := 3*lengths + 1
	for ring := range rings {
		y := float64(ring-lengths) / lengths
		joint := uint16(1)
		switch {
		case ring < lengths:
			joint = 0
		case ring > 2*lengths:
			joint = 2
		}
		for i := range around {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / around)
			at = append(at, [3]float32{float32(sin), float32(y), float32(cos)})
			joints = append(joints, [4]uint16{joint})
			weights = append(weights, [4]float32{1})
			if ring+1 < rings {
				a, b := uint32(ring*around+i), uint32(ring*around+(i+1)%around)
				indices = append(indices, a, b, b+around, a, b+around, a+around)
			}
		}
	}
	primitive := &gltf.Primitive{
		Attributes: gltf.PrimitiveAttributes{
			gltf.POSITION:  modeler.WritePosition(doc, at),
			gltf.JOINTS_0:  modeler.WriteJoints(doc, joints),
			gltf.WEIGHTS_0: modeler.WriteWeights(doc, weights),
		},
		Indices: gltf.Index(modeler.WriteIndices(doc, indices)),
	}
	doc.Meshes = []*gltf.Mesh{{Primitives: []*gltf.Primitive{primitive}}}
	bind := func(y float32) [4][4]float32 {
		return [4][4]float32{{1, 0, 0, 0}, {0, 1, 0, -y}, {0, 0, 1, 0}, {0, 0, 0, 1}} // row by row
	}
	doc.Skins = []*gltf.Skin{{
		Joints:              []int{0, 1, 2},
		InverseBindMatrices: gltf.Index(modeler.WriteInverseBindMatrices(doc, [][4][4]float32{bind(0), bind(0), bind(1)})),
	}}
	doc.Nodes = []*gltf.Node{
		{Name: "torso", Children: []int{1}},
		{Name: "bone", Children: []int{2}},
		{Name: "shin", Translation: [3]float64{0, 1, 0}},
		{Mesh: gltf.Index(0), Skin: gltf.Index(0)},
	}
	doc.Scenes[0].Nodes = []int{0, 3}
	var out bytes.Buffer
	encoder := gltf.NewEncoder(&out)
	encoder.AsBinary = true
	require.NoError(t, encoder.Encode(doc))
	file, err := asset.Decode("tube.glb", out.Bytes(), nil)
	require.NoError(t, err)
	return file
}
