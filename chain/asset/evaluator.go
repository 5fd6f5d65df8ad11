package asset

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/spatial/r3"
)

// Evaluator poses a file's nodes and skins its meshes, as a viewer would:
// linear-blend skinning as in the glTF 2.0 specification, section 3.7.3. It is
// read only.
type Evaluator struct {
	file *File
	*poses
	order []int // nodes, parents before children
	clips []clip
	// inverseBind holds each skin's matrices once, however many nodes wear it;
	// nil for a skin that none does.
	inverseBind [][]mgl64.Mat4
	worn        []wornPrimitive
	vertices    int
}

// wornPrimitive is one primitive under one skin.
type wornPrimitive struct {
	skin, mesh, primitive int
	skinnedVertices
}

// skinnedVertices are what skinning takes.
type skinnedVertices struct {
	positions  []float64
	influences [][]influence // by set: JOINTS_0, JOINTS_1, …
	unweighted []int         // vertices that came without weight, see bindUnweighted
}

type influence struct {
	joints  [4]uint16
	weights [4]float64
}

// Evaluator decodes what posing takes. The error names the accessor or channel
// at fault.
func (f *File) Evaluator() (*Evaluator, error) {
	return f.evaluator(func(int) bool { return true })
}

// evaluator is Evaluator for clips of the wanted nodes alone.
func (f *File) evaluator(wanted func(node int) bool) (*Evaluator, error) {
	clips, err := f.clips(wanted)
	if err != nil {
		return nil, err
	}
	poses, err := f.poses()
	if err != nil {
		return nil, err
	}
	e := &Evaluator{file: f, poses: poses, clips: clips, order: f.parentsFirst(), inverseBind: make([][]mgl64.Mat4, len(f.Doc.Skins))}
	for node := range f.Doc.Nodes {
		if err := e.addSkin(node); err != nil {
			return nil, fmt.Errorf("%s: node %d: %w", f.Name, node, err)
		}
	}
	return e, nil
}

func (e *Evaluator) addSkin(node int) error {
	n := e.file.Doc.Nodes[node]
	if n.Mesh == nil || n.Skin == nil {
		return nil
	}
	joints := len(e.file.Doc.Skins[*n.Skin].Joints)
	for i, primitive := range e.file.Doc.Meshes[*n.Mesh].Primitives {
		skinned, err := e.file.skinnedPrimitive(primitive, joints)
		if err != nil {
			return fmt.Errorf("mesh %d: primitive %d: %w", *n.Mesh, i, err)
		}
		if skinned == nil {
			continue
		}
		if e.inverseBind[*n.Skin] == nil {
			if e.inverseBind[*n.Skin], err = e.file.inverseBind(*n.Skin); err != nil {
				return err
			}
		}
		e.worn = append(e.worn, wornPrimitive{skin: *n.Skin, mesh: *n.Mesh, primitive: i, skinnedVertices: *skinned})
		e.vertices += len(skinned.positions) / 3
	}
	return nil
}

// parentsFirst orders the nodes so that a parent comes before its children,
// without recursion: a hostile file may nest a million nodes.
func (f *File) parentsFirst() []int {
	order := make([]int, 0, len(f.Doc.Nodes))
	for node, parent := range f.parent {
		if parent < 0 {
			order = append(order, node)
		}
	}
	for i := 0; i < len(order); i++ {
		order = append(order, f.Doc.Nodes[order[i]].Children...)
	}
	return order
}

// Clips are the names of the file's animations, in their order; an unnamed one
// goes by its index, as "#2".
func (e *Evaluator) Clips() []string {
	names := make([]string, len(e.clips))
	for i, c := range e.clips {
		names[i] = c.name
	}
	return names
}

// Node finds a node by name, or by its index as in "#3"; -1 where there is none.
func (e *Evaluator) Node(name string) int {
	node, err := e.file.node(name)
	if err != nil {
		return -1
	}
	return node
}

// Span is the first and the last key time of a clip, by its place in
// [Evaluator.Clips], in seconds; 0, 0 for a clip that moves no node and, as it has
// no clip, for the rest pose, where clip is negative. It panics where there is no
// such clip.
func (e *Evaluator) Span(clip int) (first, last float64) {
	empty := true
	for _, tracks := range e.clip(clip).nodes {
		for _, k := range []*track{tracks.rotation, tracks.translation, tracks.scale} {
			if k == nil {
				continue
			}
			a, b := k.times[0], k.times[len(k.times)-1]
			if empty {
				first, last, empty = a, b, false
			}
			first, last = min(first, a), max(last, b)
		}
	}
	return first, last
}

// World returns every node's world matrix at the time t, in seconds, of a clip,
// by its place in [Evaluator.Clips]; clip may also be [NodePose] or, as any other
// negative number, [Rest]. Before a clip's first key and after its last it holds
// still, and nodes that a clip does not move stand as in the node pose; NaN counts as
// before. It panics where there is no such clip, as a slice does.
func (e *Evaluator) World(clip int, t float64) []mgl64.Mat4 {
	if clip < 0 && clip != NodePose {
		return e.world(e.file, e.order, nil, t)
	}
	return e.world(e.file, e.order, e.clip(clip), t)
}

// clip is a clip by its number; one without channels where that is negative.
func (e *Evaluator) clip(number int) *clip {
	switch {
	case number < 0:
		return nodePose
	case number >= len(e.clips):
		panic(fmt.Sprintf("asset: Evaluator: clip %d, expected less than %d, the number of clips", number, len(e.clips)))
	}
	return &e.clips[number]
}

// Vertices returns the skinned world position, in metres, of every vertex of every
// skinned primitive, in the order of nodes, primitives, vertices. world is what
// [Evaluator.World] gives.
func (e *Evaluator) Vertices(world []mgl64.Mat4) []r3.Vec {
	matrices := make([][]mgl64.Mat4, len(e.inverseBind))
	for skin, inverse := range e.inverseBind {
		for i, node := range e.file.Doc.Skins[skin].Joints {
			if i < len(inverse) {
				matrices[skin] = append(matrices[skin], world[node].Mul4(inverse[i]))
			}
		}
	}
	out := make([]r3.Vec, 0, e.vertices)
	for i := range e.worn {
		out = e.worn[i].appendTo(out, matrices[e.worn[i].skin])
	}
	return out
}

func (s *skinnedVertices) appendTo(out []r3.Vec, matrices []mgl64.Mat4) []r3.Vec {
	for v := range len(s.positions) / 3 {
		x, y, z := s.positions[3*v], s.positions[3*v+1], s.positions[3*v+2]
		var sum r3.Vec
		for _, set := range s.influences {
			for k, weight := range set[v].weights {
				if weight == 0 {
					continue
				}
				m := &matrices[set[v].joints[k]]
				sum.X += weight * (m[0]*x + m[4]*y + m[8]*z + m[12])
				sum.Y += weight * (m[1]*x + m[5]*y + m[9]*z + m[13])
				sum.Z += weight * (m[2]*x + m[6]*y + m[10]*z + m[14])
			}
		}
		out = append(out, sum)
	}
	return out
}

// Triangles returns the triangles of the skinned primitives, as indices into
// what [Evaluator.Vertices] gives. Primitives of points, lines, strips and fans are left out.
func (e *Evaluator) Triangles() ([][3]int, error) {
	var out [][3]int
	base := 0
	for i := range e.worn {
		s := &e.worn[i]
		count := len(s.positions) / 3
		indices, err := e.file.triangleIndices(e.file.Doc.Meshes[s.mesh].Primitives[s.primitive], count)
		if err != nil {
			return nil, fmt.Errorf("%s: mesh %d: primitive %d: %w", e.file.Name, s.mesh, s.primitive, err)
		}
		for j := 0; j+2 < len(indices); j += 3 {
			out = append(out, [3]int{base + indices[j], base + indices[j+1], base + indices[j+2]})
		}
		base += count
	}
	return out, nil
}
