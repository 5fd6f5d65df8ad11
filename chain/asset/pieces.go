package asset

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/spatial/r3"
)

// wearing names a primitive under the skin that it is worn under.
type wearing struct{ skin, mesh, primitive int }

// noPiece is the piece of a vertex that no triangle reaches.
const noPiece = -1

// pieces are the connected pieces of all that wears a skin of the file: what
// triangles connect, over seams of texture and material too, within one skin.
type pieces struct {
	file  *File
	worn  []piecedPrimitive
	index map[wearing]int // into worn

	shownBy map[[2]int][]string // names of the nodes that show a mesh under a skin, by skin and mesh
	ids     []string            // of each piece, such as "Body/0/12": mesh, primitive and lowest vertex
}

// piecedPrimitive is a primitive with the number of each vertex' piece. Numbers
// are of the whole file.
type piecedPrimitive struct {
	wearing
	*skinnedVertices
	triangles [][3]int
	piece     []int
	used      []bool // whether a triangle of this very primitive has the vertex
}

// piecePart is what a primitive has of a piece.
type piecePart struct {
	wearing
	piece int
}

// pieces finds the pieces of all that the evaluator skins.
func (e *Evaluator) pieces() (*pieces, error) {
	p := &pieces{file: e.file, index: map[wearing]int{}, shownBy: map[[2]int][]string{}}
	for _, n := range e.file.Doc.Nodes {
		if n.Mesh != nil && n.Skin != nil && n.Name != "" {
			key := [2]int{*n.Skin, *n.Mesh}
			p.shownBy[key] = append(p.shownBy[key], n.Name)
		}
	}
	bySkin := make([][]int, len(e.file.Doc.Skins))
	for i := range e.worn {
		w := &e.worn[i]
		key := wearing{w.skin, w.mesh, w.primitive}
		if _, twice := p.index[key]; twice { // two nodes show it
			continue
		}
		corners, err := e.file.triangleIndices(e.file.Doc.Meshes[w.mesh].Primitives[w.primitive], len(w.positions)/3)
		if err != nil {
			return nil, fmt.Errorf("%s: mesh %d: primitive %d: %w", e.file.Name, w.mesh, w.primitive, err)
		}
		p.index[key] = len(p.worn)
		bySkin[w.skin] = append(bySkin[w.skin], len(p.worn))
		p.worn = append(p.worn, piecedPrimitive{wearing: key, skinnedVertices: &w.skinnedVertices, triangles: threes(corners), used: make([]bool, len(w.positions)/3)})
	}
	for _, worn := range bySkin {
		p.number(worn)
	}
	return p, nil
}

func threes(corners []int) [][3]int {
	out := make([][3]int, len(corners)/3)
	for i := range out {
		out[i] = [3]int(corners[3*i:])
	}
	return out
}

// number numbers the pieces of one skin.
func (p *pieces) number(worn []int) {
	var positions []r3.Vec
	var triangles [][3]int
	for _, i := range worn {
		w := &p.worn[i]
		first := len(positions)
		for v := range w.used {
			positions = append(positions, r3.Vec{X: w.positions[3*v], Y: w.positions[3*v+1], Z: w.positions[3*v+2]})
		}
		for _, t := range w.triangles {
			triangles = append(triangles, [3]int{first + t[0], first + t[1], first + t[2]})
			w.used[t[0]], w.used[t[1]], w.used[t[2]] = true, true, true
		}
	}
	numbers, count := skin.Pieces(positions, triangles)
	known := len(p.ids)
	p.ids = append(p.ids, make([]string, count)...)
	for _, i := range worn {
		w := &p.worn[i]
		w.piece = numbers[:len(w.used)]
		numbers = numbers[len(w.used):]
		for v := range w.piece {
			if w.piece[v] == noPiece {
				continue
			}
			w.piece[v] += known
			if id := &p.ids[w.piece[v]]; *id == "" && w.used[v] {
				*id = fmt.Sprintf("%s/%d/%d", p.meshName(w.mesh), w.primitive, v)
			}
		}
	}
}

// meshName is the mesh's name or, where it has none, "#" and its index.
func (p *pieces) meshName(mesh int) string {
	if name := p.file.Doc.Meshes[mesh].Name; name != "" {
		return name
	}
	return fmt.Sprintf("#%d", mesh)
}

// weightOf is the weight that a joint of the skin has on a vertex.
func (s *skinnedVertices) weightOf(joint, v int) (weight float64) {
	for _, set := range s.influences {
		for k, w := range set[v].weights {
			if w > 0 && int(set[v].joints[k]) == joint {
				weight += w
			}
		}
	}
	return weight
}

// binds are a skin's inverse bind matrices.
func (e *Evaluator) binds(skin int) ([]mgl64.Mat4, error) {
	if m := e.inverseBind[skin]; m != nil { // read already
		return m, nil
	}
	return e.file.inverseBind(skin)
}
