package asset

import (
	"fmt"
	"math"
	"slices"

	"github.com/qmuntal/gltf"
)

// skinLook is what detection sees of the skin, by node.
type skinLook struct {
	unseen bool // the file has no skinned mesh: everything below is guessed

	// moved is the sum of the weights that vertices give to the joint, and below
	// that of the joint and all joints below it. Without a mesh each node counts
	// as 1.
	moved, below []float64

	// pieces is the range of places, in tour, of all joints that move a piece of
	// skin which the joint moves too.
	pieces []placeRange
	// tour is each node's place in a walk that takes a node before its children
	// and finishes a child before the next: what is below a node is one range.
	tour []placeRange
}

// placeRange is a range of places in the tour, its ends included.
type placeRange struct{ first, last int }

var noPlaces = placeRange{math.MaxInt, -1}

func (r *placeRange) include(other placeRange) {
	r.first, r.last = min(r.first, other.first), max(r.last, other.last)
}

// lookAtSkin reads the skin. order lists the nodes, parents first.
func (f *File) lookAtSkin(order []int) (*skinLook, error) {
	n := len(order)
	look := &skinLook{unseen: true, moved: make([]float64, n), pieces: slices.Repeat([]placeRange{noPlaces}, n), tour: f.tour(order)}
	for skin := range f.Doc.Skins {
		worn, err := f.wornUnder(skin)
		if err != nil {
			return nil, err
		}
		if len(worn) > 0 {
			look.unseen = false
			look.addSkin(f, skin, worn)
		}
	}
	if look.unseen {
		for node := range look.moved {
			look.moved[node] = 1
		}
	}
	look.below = slices.Clone(look.moved)
	for _, node := range slices.Backward(order) {
		if parent := f.parent[node]; parent >= 0 {
			look.below[parent] += look.below[node]
		}
	}
	return look, nil
}

// tour is each node's place in the walk, and that of the last node below it.
func (f *File) tour(order []int) []placeRange {
	size := make([]int, len(order))
	for _, node := range slices.Backward(order) {
		size[node]++
		if parent := f.parent[node]; parent >= 0 {
			size[parent] += size[node]
		}
	}
	out := make([]placeRange, len(order))
	next := 0
	for _, node := range order {
		if f.parent[node] < 0 {
			out[node] = placeRange{next, next + size[node] - 1}
			next += size[node]
		}
		at := out[node].first + 1
		for _, child := range f.Doc.Nodes[node].Children {
			out[child] = placeRange{at, at + size[child] - 1}
			at += size[child]
		}
	}
	return out
}

// skinPart is one primitive under a skin.
type skinPart struct {
	*skinnedVertices
	triangles []int // corners, three each; nil where the primitive counts as one piece
}

// wornUnder reads the primitives that nodes show under a skin, each once.
func (f *File) wornUnder(skin int) (out []skinPart, err error) {
	seen := map[int]bool{}
	for _, n := range f.Doc.Nodes {
		if n.Mesh == nil || n.Skin == nil || *n.Skin != skin || seen[*n.Mesh] {
			continue
		}
		seen[*n.Mesh] = true
		for i, p := range f.Doc.Meshes[*n.Mesh].Primitives {
			vertices, err := f.skinnedPrimitive(p, len(f.Doc.Skins[skin].Joints))
			if err != nil {
				return nil, fmt.Errorf("mesh %d: primitive %d: %w", *n.Mesh, i, err)
			}
			if vertices == nil {
				continue
			}
			part := skinPart{skinnedVertices: vertices}
			// Indices that cannot be read are an error of whoever needs them.
			// Detection then takes the primitive for one piece, as it does with
			// strips, fans and lines: it proposes a limb where it is in doubt.
			if p.Mode == gltf.PrimitiveTriangles {
				part.triangles, _ = f.triangleIndices(p, len(vertices.positions)/3)
			}
			out = append(out, part)
		}
	}
	return out, nil
}

// addSkin joins the parts of one skin where they meet and notes which joints
// move the pieces.
func (l *skinLook) addSkin(f *File, skin int, parts []skinPart) {
	pieces := weld(parts)
	joints := f.Doc.Skins[skin].Joints
	reach := slices.Repeat([]placeRange{noPlaces}, len(pieces.above))
	each := func(do func(piece, node int, weight float64)) {
		base := 0
		for _, part := range parts {
			vertices := len(part.positions) / 3
			unweighted := part.unweighted
			for v := range vertices {
				if len(unweighted) > 0 && unweighted[0] == v { // bound by the reader, not by the file
					unweighted = unweighted[1:]
					continue
				}
				piece := pieces.find(base + v)
				for _, set := range part.influences {
					for k, weight := range set[v].weights {
						if weight > 0 {
							do(piece, joints[set[v].joints[k]], weight)
						}
					}
				}
			}
			base += vertices
		}
	}
	each(func(piece, node int, weight float64) {
		place := l.tour[node].first
		reach[piece].include(placeRange{place, place})
		l.moved[node] += weight
	})
	each(func(piece, node int, _ float64) { l.pieces[node].include(reach[piece]) })
}

// isRigid reports whether no other joint moves the skin that a joint moves.
func (l *skinLook) isRigid(node int) bool {
	place := l.tour[node].first
	return !l.unseen && l.pieces[node] == placeRange{place, place}
}

// isApart reports whether only the joint and joints below it move the skin that
// the joint moves.
func (l *skinLook) isApart(node int) bool {
	return !l.unseen && l.pieces[node].first >= l.tour[node].first && l.pieces[node].last <= l.tour[node].last
}
