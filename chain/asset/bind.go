package asset

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/qmuntal/gltf"
)

const (
	// bindNoise is how far a bind pose in float32 may be from the node pose and
	// pass for it: in radians, in lengths of the skeleton and as a share of a scale.
	// A matrix entry is rounded by 2^-24, 6e-8. Inverting the matrix, and taking it
	// from its parent's, multiplies that by the distance from the origin in lengths
	// of the skeleton and by a few operations: 6e-6 was the most in exported files.
	bindNoise = 2e-5
	// skinsAgree is by how much skins may place a joint apart, as a share of the
	// skeleton and of the joint's frame, and still agree: fifty times the noise,
	// since one joint aligns two skins, and under 2 mm of a person.
	skinsAgree = 1e-3
	// someTilt is the shear below which a frame is taken for one without: it tilts
	// axes by less than skin could show.
	someTilt = 1e-4
)

// binder works out the bind pose of a file.
//
// A skin has its joints, in the mesh's space, at the inverses of its inverse bind
// matrices. One matrix, the skin's frame, takes that space to the world. glTF does
// not store it, and it cancels in skinning.
type binder struct {
	file  *File
	order []int
	world []mgl64.Mat4 // of the node pose
	skins []boundSkin
	of    map[int][]int // joint -> skins that bind it, as indices into skins
	reach float64       // extent of all joints

	place map[int]mgl64.Mat4 // of joints, in the bind pose
	torn  map[int]bool
}

// boundSkin is a skin that some node wears.
type boundSkin struct {
	wearer   int
	vertices int // that it moves: no split changes how many
	joints   []int
	binds    []mgl64.Mat4 // in the mesh's space, one for each joint
	inverse  []mgl64.Mat4
	queued   bool
}

// bindPoses works out the rest pose of the file.
func (f *File) bindPoses() (*poses, error) {
	p := f.nodePoses()
	b := binder{file: f, order: f.parentsFirst(), of: map[int][]int{}, place: map[int]mgl64.Mat4{}, torn: map[int]bool{}}
	b.world = p.world(f, b.order, nodePose, 0)
	if err := b.read(); err != nil {
		return nil, fmt.Errorf("%s: %w", f.Name, err)
	}
	for i := range b.skins {
		if b.skins[i].queued {
			continue
		}
		frame, ok := b.frame(&b.skins[i])
		if !ok {
			continue
		}
		b.put(&b.skins[i], frame)
		b.spread(i)
	}
	if len(b.place) > 0 {
		b.settle(p)
	}
	return p, nil
}

// read gathers the skins, those that move most vertices first.
func (b *binder) read() error {
	at := map[int]int{}
	for node, n := range b.file.Doc.Nodes {
		if n.Mesh == nil || n.Skin == nil {
			continue
		}
		i, ok := at[*n.Skin]
		if !ok {
			i = len(b.skins)
			at[*n.Skin] = i
			s, err := b.skin(*n.Skin)
			if err != nil {
				return err
			}
			s.wearer = node
			b.skins = append(b.skins, s)
		}
		for _, primitive := range b.file.Doc.Meshes[*n.Mesh].Primitives {
			if a, ok := primitive.Attributes[gltf.POSITION]; ok {
				b.skins[i].vertices += b.file.Doc.Accessors[a].Count
			}
		}
	}
	var all []mgl64.Mat4
	for i := range b.skins {
		for _, joint := range b.skins[i].joints {
			all = append(all, b.world[joint])
		}
	}
	b.reach = extentOf(all)
	b.skins = slices.DeleteFunc(b.skins, func(s boundSkin) bool { return !b.hasBind(&s) })
	slices.SortStableFunc(b.skins, func(a, b boundSkin) int { return cmp.Compare(b.vertices, a.vertices) })
	for i := range b.skins {
		for _, joint := range b.skins[i].joints {
			b.of[joint] = append(b.of[joint], i)
		}
	}
	return nil
}

// skin reads the joints of a skin whose matrices have an inverse.
func (b *binder) skin(index int) (s boundSkin, err error) {
	matrices, err := b.file.inverseBind(index)
	if err != nil {
		return s, err
	}
	for i, joint := range b.file.Doc.Skins[index].Joints {
		if bind, ok := inverted(matrices[i]); ok {
			s.joints, s.binds, s.inverse = append(s.joints, joint), append(s.binds, bind), append(s.inverse, matrices[i])
		}
	}
	return s, nil
}

// hasBind reports whether a skin's matrices say where its joints stand. A skin without
// matrices has identities, which put all of its joints in one place. It may have got
// leaf joints with matrices of their own since, by a split: so it is one where as
// many joints have the same matrix as are inner ones, and their nodes stand apart.
func (b *binder) hasBind(s *boundSkin) bool {
	in := map[int]bool{}
	for _, joint := range s.joints {
		in[joint] = true
	}
	inner := map[int]bool{}
	alike := map[mgl64.Mat4][]mgl64.Mat4{} // where the nodes stand, by matrix
	for i, joint := range s.joints {
		if parent := b.file.parent[joint]; in[parent] {
			inner[parent] = true
		}
		alike[s.inverse[i]] = append(alike[s.inverse[i]], b.world[joint])
	}
	for _, stand := range alike {
		if len(stand) > 1 && len(stand) >= len(inner) && extentOf(stand) > skinsAgree*b.reach {
			return false
		}
	}
	return len(s.joints) > 0
}

// spread carries the bind pose from a skin to all that share joints with it.
func (b *binder) spread(from int) {
	queue := []int{from}
	b.skins[from].queued = true
	for i := 0; i < len(queue); i++ {
		if i > 0 {
			s := &b.skins[queue[i]]
			b.put(s, b.align(s))
		}
		for _, joint := range b.skins[queue[i]].joints {
			for _, other := range b.of[joint] {
				if !b.skins[other].queued {
					b.skins[other].queued = true
					queue = append(queue, other)
				}
			}
			b.of[joint] = nil // all are queued
		}
	}
}

// put places a skin's joints in the world and compares those that have a place.
func (b *binder) put(s *boundSkin, frame mgl64.Mat4) {
	for i, joint := range s.joints {
		at := frame.Mul4(s.binds[i])
		if !isFinite(at) {
			continue
		}
		if place, ok := b.place[joint]; !ok {
			b.place[joint] = at
		} else if !b.same(place, at, skinsAgree) {
			b.torn[joint] = true
		}
	}
}

// align is the frame of a skin that shares joints with those placed: by the one
// joint with which most others agree.
func (b *binder) align(s *boundSkin) (best mgl64.Mat4) {
	const tries = 16 // joints, spread over those that are shared
	var shared []int
	for i, joint := range s.joints {
		if _, ok := b.place[joint]; ok && !b.torn[joint] {
			shared = append(shared, i)
		}
	}
	best = mgl64.Ident4()
	most := -1
	for try := range min(tries, len(shared)) {
		i := shared[try*len(shared)/min(tries, len(shared))]
		frame, agree := b.place[s.joints[i]].Mul4(s.inverse[i]), 0
		for _, k := range shared {
			if b.same(b.place[s.joints[k]], frame.Mul4(s.binds[k]), skinsAgree) {
				agree++
			}
		}
		if agree > most {
			best, most = frame, agree
		}
	}
	return best
}
