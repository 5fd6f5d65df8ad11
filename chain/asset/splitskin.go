package asset

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
	"github.com/qmuntal/gltf"
	"gonum.org/v1/gonum/num/quat"
)

// reweight extends the skins, then works on every primitive that a node shows
// under one of them.
func (s *splitter) reweight() error {
	r := &s.weights
	*r = reweighter{
		file: s.file, limbs: s.limbs, pieces: s.pieces, basis: s.options.Basis, most: s.options.Influences,
		perSkin: map[int][]joined{}, done: map[string]*reweighted{}, stats: make([]limbStats, len(s.limbs)),
	}
	homes := make([]map[piecePart]int, len(s.limbs))
	for i, l := range s.limbs {
		homes[i] = l.homes(s.pieces)
	}
	for skin := range s.file.Doc.Skins {
		if err := s.extendSkin(skin, homes); err != nil {
			return fmt.Errorf("%s: %w", s.file.Name, err)
		}
	}
	work := s.plan()
	// All that is replaced is let go before anything is stored, so that the
	// new data takes the old data's slots. A mesh that is also copied is left
	// out: the copy may go on using what the mesh itself does not.
	copied := map[int]bool{}
	for _, w := range work {
		copied[w.mesh] = copied[w.mesh] || w.clone
	}
	for _, w := range work {
		for i, p := range s.file.Doc.Meshes[w.mesh].Primitives {
			if w.primitives[i] != nil && !copied[w.mesh] {
				for set := range influenceSets(p) {
					s.patch.slots.release(p.Attributes[fmt.Sprintf("JOINTS_%d", set)])
					s.patch.slots.release(p.Attributes[fmt.Sprintf("WEIGHTS_%d", set)])
				}
			}
		}
	}
	for _, w := range work {
		if err := s.storeMesh(w); err != nil {
			return err
		}
	}
	return nil
}

// extendSkin appends the segments of the limbs that move any of what wears the skin.
// Where a segment stands p from the joint and turned by R at rest, its inverse
// bind matrix is R^-1 T(-p) times the joint's.
func (s *splitter) extendSkin(index int, homes []map[piecePart]int) error {
	skin := s.file.Doc.Skins[index]
	joints := slices.Clone(skin.Joints)
	var matrices []mgl64.Mat4
	for i, l := range s.limbs {
		if !l.moves(s.pieces, index) {
			continue
		}
		frame := l.frames[index]
		if matrices == nil {
			var err error
			if matrices, err = s.file.inverseBind(index); err != nil {
				return err
			}
			matrices = slices.Clone(matrices[:len(joints)])
		}
		var segments []int
		for _, seg := range l.segments {
			segments = append(segments, len(joints))
			joints = append(joints, seg.node)
			back := mgl64.Translate3D(-float64(seg.at[0]), -float64(seg.at[1]), -float64(seg.at[2]))
			if l.isTurned() {
				back = rest.Frame{Rotation: quat.Conj(l.turn)}.Mat4().Mul4(back)
			}
			matrices = append(matrices, back.Mul4(matrices[frame.joint]))
		}
		s.weights.perSkin[index] = append(s.weights.perSkin[index], joined{limb: i, segments: segments, frame: frame, rules: l.rules, homes: homes[i]})
	}
	if matrices == nil {
		return nil
	}
	if len(joints) > math.MaxUint16+1 {
		return fmt.Errorf("skin %d: %d joints with the segments, expected at most %d", index, len(joints), math.MaxUint16+1)
	}
	if skin.InverseBindMatrices != nil {
		s.patch.slots.release(*skin.InverseBindMatrices)
	}
	accessor := s.patch.addAccessor(gltf.Accessor{
		ComponentType: gltf.ComponentFloat, Type: gltf.AccessorMat4, Count: len(matrices),
	}, gltf.TargetNone, matrixBytes(matrices))
	return s.patch.edit("skins", index, func(o object) error {
		o.set("joints", joints)
		o.set("inverseBindMatrices", accessor)
		return nil
	})
}

func matrixBytes(matrices []mgl64.Mat4) []byte {
	out := make([]byte, 0, 64*len(matrices))
	for _, m := range matrices {
		for _, x := range m {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(x)))
		}
	}
	return out
}

// meshWork is a mesh to be changed for one skin.
type meshWork struct {
	mesh       int
	nodes      []int // that show it under the skin
	primitives []*reweighted
	clone      bool // nodes under another skin need the mesh as it was, or changed otherwise
}

// plan works out which meshes change, and for which nodes. Joint numbers mean
// something only within a skin, so a mesh shown under two skins is split in
// two.
func (s *splitter) plan() []*meshWork {
	type use struct{ mesh, skin int }
	byUse := map[use]*meshWork{}
	var order []use
	for node, n := range s.file.Doc.Nodes {
		if n.Mesh == nil || n.Skin == nil {
			continue
		}
		u := use{*n.Mesh, *n.Skin}
		if byUse[u] == nil {
			byUse[u] = &meshWork{mesh: u.mesh}
			order = append(order, u)
		}
		byUse[u].nodes = append(byUse[u].nodes, node)
	}
	var out []*meshWork
	uses, changes := map[int]int{}, map[int]int{}
	for _, u := range order {
		w := byUse[u]
		uses[u.mesh]++
		changed := false
		for i := range s.file.Doc.Meshes[u.mesh].Primitives {
			again := s.weights.primitive(wearing{u.skin, u.mesh, i})
			w.primitives = append(w.primitives, again)
			changed = changed || again != nil
		}
		if changed {
			w.clone = changes[u.mesh] > 0
			changes[u.mesh]++
			out = append(out, w)
		}
	}
	for _, w := range out {
		w.clone = w.clone || changes[w.mesh] < uses[w.mesh] // the others still need it as it was
	}
	return out
}

// storeMesh writes a mesh's new attributes, into the mesh itself or into a
// copy that the work's nodes then show.
func (s *splitter) storeMesh(w *meshWork) error {
	index := w.mesh
	original := s.meshJSON[w.mesh]
	if w.clone {
		index = s.patch.add("meshes", original)
		for _, node := range w.nodes {
			err := s.patch.edit("nodes", node, func(o object) error {
				o.set("mesh", index)
				return nil
			})
			if err != nil {
				return err
			}
		}
	}
	return s.patch.edit("meshes", index, func(mesh object) error {
		var primitives []object
		// The source, not the mesh as an earlier skin changed it.
		source, err := parseObject(original)
		if err != nil {
			return err
		}
		if err := json.Unmarshal(source["primitives"], &primitives); err != nil {
			return err
		}
		for i, again := range w.primitives {
			if again == nil {
				continue
			}
			attributes, err := parseObject(primitives[i]["attributes"])
			if err != nil {
				return err
			}
			s.store(again)
			for set := range again.joints {
				attributes.set(fmt.Sprintf("JOINTS_%d", set), again.stored[set].joints)
				attributes.set(fmt.Sprintf("WEIGHTS_%d", set), again.stored[set].weights)
			}
			primitives[i].set("attributes", attributes)
		}
		mesh.set("primitives", primitives)
		return nil
	})
}

// store writes accessors for new skin data, once.
func (s *splitter) store(w *reweighted) {
	if w.stored != nil {
		return
	}
	for set := range w.joints {
		var at storedSet
		at.joints = s.storeJoints(w.joints[set])
		at.weights = s.storeWeights(w.weights[set], w.integer)
		w.stored = append(w.stored, at)
	}
}

func (s *splitter) storeJoints(joints [][4]uint16) int {
	wide := slices.ContainsFunc(joints, func(j [4]uint16) bool { return max(j[0], j[1], j[2], j[3]) > math.MaxUint8 })
	accessor := gltf.Accessor{ComponentType: gltf.ComponentUbyte, Type: gltf.AccessorVec4, Count: len(joints)}
	data := make([]byte, 0, 8*len(joints))
	if wide {
		accessor.ComponentType = gltf.ComponentUshort
	}
	for _, vertex := range joints {
		for _, joint := range vertex {
			if wide {
				data = binary.LittleEndian.AppendUint16(data, joint)
			} else {
				data = append(data, byte(joint))
			}
		}
	}
	return s.patch.addAccessor(accessor, gltf.TargetArrayBuffer, data)
}

// storeWeights keeps floats as floats. Integers become 16-bit ones whatever
// they were: 255 steps are too coarse to ramp a twist, and 8-bit weights
// convert exactly, 65535 being 257 times 255.
func (s *splitter) storeWeights(weights [][4]float64, integer bool) int {
	accessor := gltf.Accessor{ComponentType: gltf.ComponentFloat, Type: gltf.AccessorVec4, Count: len(weights)}
	if integer {
		accessor.ComponentType, accessor.Normalized = gltf.ComponentUshort, true
	}
	data := make([]byte, 0, 16*len(weights))
	for _, vertex := range weights {
		for _, weight := range vertex {
			if integer {
				data = binary.LittleEndian.AppendUint16(data, uint16(weight))
			} else {
				data = binary.LittleEndian.AppendUint32(data, math.Float32bits(float32(weight)))
			}
		}
	}
	return s.patch.addAccessor(accessor, gltf.TargetArrayBuffer, data)
}
