package demo

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Wren returns the character as the bytes of a binary glTF 2.0 file.
func Wren() ([]byte, error) {
	doc := gltf.NewDocument()
	doc.Asset.Generator = "Pronate"
	js := skeleton()
	writeSkeleton(doc, js)
	if err := writeSkin(doc, js, body()); err != nil {
		return nil, err
	}
	for _, c := range clips() {
		writeClip(doc, js, c)
	}
	for _, buffer := range doc.Buffers {
		buffer.ByteLength = len(buffer.Data)
	}
	var out bytes.Buffer
	if err := gltf.NewEncoder(&out).Encode(doc); err != nil {
		return nil, fmt.Errorf("demo: %w", err)
	}
	return out.Bytes(), nil
}

// writeSkeleton makes joint i node i.
func writeSkeleton(doc *gltf.Document, js []joint) {
	for i, j := range js {
		at, q := local(js, i)
		doc.Nodes = append(doc.Nodes, &gltf.Node{
			Name:        j.name,
			Translation: [3]float64{at.X, at.Y, at.Z},
			Rotation:    xyzw(q),
			Scale:       [3]float64{1, 1, 1},
		})
		if j.parent >= 0 {
			doc.Nodes[j.parent].Children = append(doc.Nodes[j.parent].Children, i)
		}
	}
	doc.Scenes[0].Name = "wren"
	doc.Scenes[0].Nodes = []int{pelvis}
}

func writeSkin(doc *gltf.Document, js []joint, s *surface) error {
	triangles := s.triangles()
	positions, normals := make([][3]float32, len(s.at)), make([][3]float32, len(s.at))
	for i, n := range s.normals(triangles) {
		positions[i], normals[i] = single(s.at[i]), single(n)
	}
	colours := make([][4]uint8, len(s.at))
	joints, shares := make([][4]uint8, len(s.at)), make([][4]float32, len(s.at))
	for i, c := range s.colour {
		for k, v := range c {
			colours[i][k] = uint8(math.Round(255 * v))
		}
		colours[i][3] = 255
		joints[i], shares[i] = influences(s.weight[i])
	}
	attributes, err := modeler.WritePrimitiveAttributes(doc,
		modeler.PrimitiveAttribute{Name: gltf.POSITION, Data: positions},
		modeler.PrimitiveAttribute{Name: gltf.NORMAL, Data: normals},
		modeler.PrimitiveAttribute{Name: gltf.COLOR_0, Data: colours},
		modeler.PrimitiveAttribute{Name: gltf.JOINTS_0, Data: joints},
		modeler.PrimitiveAttribute{Name: gltf.WEIGHTS_0, Data: shares},
	)
	if err != nil {
		return fmt.Errorf("demo: %w", err)
	}
	indices := make([]uint16, 0, 3*len(triangles))
	for _, t := range triangles {
		indices = append(indices, uint16(t[0]), uint16(t[1]), uint16(t[2]))
	}
	inverse := make([][4][4]float32, len(js))
	skin := &gltf.Skin{Name: "wren", Skeleton: gltf.Index(pelvis)}
	for i, j := range js {
		inverse[i] = inverseBind(j)
		skin.Joints = append(skin.Joints, i)
	}
	skin.InverseBindMatrices = gltf.Index(modeler.WriteAccessor(doc, gltf.TargetNone, inverse))
	doc.Skins = []*gltf.Skin{skin}
	doc.Materials = []*gltf.Material{{
		Name: "wren",
		PBRMetallicRoughness: &gltf.PBRMetallicRoughness{
			MetallicFactor:  gltf.Float(0),
			RoughnessFactor: gltf.Float(0.75),
		},
	}}
	doc.Meshes = []*gltf.Mesh{{
		Name: "wren",
		Primitives: []*gltf.Primitive{{
			Attributes: attributes,
			Indices:    gltf.Index(modeler.WriteIndices(doc, indices)),
			Material:   gltf.Index(0),
		}},
	}}
	doc.Nodes = append(doc.Nodes, &gltf.Node{Name: "wren", Mesh: gltf.Index(0), Skin: gltf.Index(0)})
	doc.Scenes[0].Nodes = append(doc.Scenes[0].Nodes, len(doc.Nodes)-1)
	return nil
}

// influences keeps the three greatest weights: a fourth would be slight, and a
// character whose vertices all use up their four leaves no room for anything
// that is added later. The greatest takes up the rounding
// of the others to float32, so that the sum is 1 to an ulp.
func influences(w weights) (joints [4]uint8, shares [4]float32) {
	order := make([]int, jointCount)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(w[b], w[a]) })
	// Less than this moves nothing by a visible amount: 0.1 mm at an arm's length.
	const least = 1e-4
	kept := order[:3]
	for len(kept) > 1 && w[kept[len(kept)-1]] < least {
		kept = kept[:len(kept)-1]
	}
	var sum float64
	for _, j := range kept {
		sum += w[j]
	}
	rest := 1.0
	for k, j := range kept {
		joints[k] = uint8(j)
		if k > 0 {
			shares[k] = float32(w[j] / sum)
			rest -= float64(shares[k])
		}
	}
	shares[0] = float32(rest)
	return joints, shares
}

// inverseBind is the inverse of a joint's rest transform, by rows.
func inverseBind(j joint) [4][4]float32 {
	back := quat.Conj(j.turn)
	x, y, z := single(rotate(back, left)), single(rotate(back, up)), single(rotate(back, fore))
	t := single(rotate(back, r3.Scale(-1, j.at)))
	return [4][4]float32{
		{x[0], y[0], z[0], t[0]},
		{x[1], y[1], z[1], t[1]},
		{x[2], y[2], z[2], t[2]},
		{0, 0, 0, 1},
	}
}

// writeClip writes linear keys for the joints that the clip moves.
func writeClip(doc *gltf.Document, js []joint, c clip) {
	count := int(math.Round(c.seconds*keyRate)) + 1
	times := make([]float32, count)
	poses := make([]pose, count)
	for k := range times {
		times[k] = float32(float64(k) / keyRate)
		poses[k] = c.at(float64(k) / float64(count-1))
	}
	animation := &gltf.Animation{Name: c.name}
	input := modeler.WriteAccessor(doc, gltf.TargetNone, times)
	// Readers find a clip's length here, so the standard asks for it.
	doc.Accessors[input].Min = []float64{float64(times[0])}
	doc.Accessors[input].Max = []float64{float64(times[count-1])}
	channel := func(node int, path gltf.TRSProperty, output int) {
		animation.Samplers = append(animation.Samplers, &gltf.AnimationSampler{Input: input, Output: output})
		animation.Channels = append(animation.Channels, &gltf.AnimationChannel{
			Sampler: len(animation.Samplers) - 1,
			Target:  gltf.AnimationChannelTarget{Node: gltf.Index(node), Path: path},
		})
	}
	for i := range js {
		moved := func(p pose) bool { return p.turn[i] != quat.Number{} }
		if !slices.ContainsFunc(poses, moved) {
			continue
		}
		keys := make([][4]float32, count)
		for k := range poses {
			q := xyzw(poses[k].local(js, i))
			sign := 1.0
			if k > 0 && q[0]*float64(keys[k-1][0])+q[1]*float64(keys[k-1][1])+
				q[2]*float64(keys[k-1][2])+q[3]*float64(keys[k-1][3]) < 0 {
				sign = -1 // neighbours on the same side of the double cover
			}
			for n := range q {
				keys[k][n] = float32(sign * q[n])
			}
		}
		channel(i, gltf.TRSRotation, modeler.WriteAccessor(doc, gltf.TargetNone, keys))
	}
	lifted := func(p pose) bool { return p.lift != r3.Vec{} }
	if slices.ContainsFunc(poses, lifted) {
		keys := make([][3]float32, count)
		for k, p := range poses {
			keys[k] = single(r3.Add(js[pelvis].at, p.lift))
		}
		channel(pelvis, gltf.TRSTranslation, modeler.WriteAccessor(doc, gltf.TargetNone, keys))
	}
	doc.Animations = append(doc.Animations, animation)
}

// xyzw is the component order of the file.
func xyzw(q quat.Number) [4]float64 { return [4]float64{q.Imag, q.Jmag, q.Kmag, q.Real} }

func single(v r3.Vec) [3]float32 { return [3]float32{float32(v.X), float32(v.Y), float32(v.Z)} }
