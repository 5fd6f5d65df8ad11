package asset

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/qmuntal/gltf"
)

// checkNodes sees to it that the nodes are a forest with finite rest
// transforms, and fills in the parents.
func (f *File) checkNodes() error {
	nodes := f.Doc.Nodes
	f.parent = make([]int, len(nodes))
	for i := range f.parent {
		f.parent[i] = -1
	}
	for i, n := range nodes {
		for _, child := range n.Children {
			if child < 0 || child >= len(nodes) {
				return fmt.Errorf("node %d: child is %d, expected one of %d", i, child, len(nodes))
			}
			if other := f.parent[child]; other >= 0 {
				return fmt.Errorf("node %d is a child of node %d and of node %d, expected one parent", child, other, i)
			}
			f.parent[child] = i
		}
		if err := f.inRange(n.Mesh, len(f.Doc.Meshes), "mesh"); err != nil {
			return fmt.Errorf("node %d: %w", i, err)
		}
		if err := f.inRange(n.Skin, len(f.Doc.Skins), "skin"); err != nil {
			return fmt.Errorf("node %d: %w", i, err)
		}
		if err := checkTransform(n); err != nil {
			return fmt.Errorf("node %d: %w", i, err)
		}
	}
	order := f.parentsFirst()
	if len(order) < len(nodes) {
		return f.cycle(order)
	}
	return f.checkWorld(order)
}

// cycle names a node of a cycle: with one parent each, what no root reaches is
// on one or below one.
func (f *File) cycle(reached []int) error {
	seen := make([]bool, len(f.parent))
	for _, node := range reached {
		seen[node] = true
	}
	for node := range seen {
		if seen[node] {
			continue
		}
		for !seen[node] { // climb until a node comes round again
			seen[node] = true
			node = f.parent[node]
		}
		return fmt.Errorf("node %d is its own ancestor, expected a tree", node)
	}
	return nil
}

// checkWorld sees to it that no chain of scales runs out of the range of
// numbers.
func (f *File) checkWorld(order []int) error {
	world := f.nodePoses().world(f, order, nodePose, 0)
	for _, node := range order {
		for _, x := range world[node] {
			if math.IsNaN(x) || math.Abs(x) > math.MaxFloat32 {
				return fmt.Errorf("node %d: its place in the world is out of range, expected finite numbers", node)
			}
		}
	}
	return nil
}

// A rotation's length may be this far from 1: quantised and hand-written ones
// are a little beside it. Viewers differ on what they make of others.
const rotationTolerance = 0.1

func checkTransform(n *gltf.Node) error {
	for _, numbers := range [][]float64{n.Matrix[:], n.Rotation[:], n.Scale[:], n.Translation[:]} {
		for _, x := range numbers {
			if !(math.Abs(x) <= math.MaxFloat32) {
				return fmt.Errorf("its transform holds %g, expected numbers that a float32 can hold", x)
			}
		}
	}
	r := n.Rotation
	length := math.Sqrt(r[0]*r[0] + r[1]*r[1] + r[2]*r[2] + r[3]*r[3])
	if !(math.Abs(length-1) <= rotationTolerance) {
		return fmt.Errorf("rotation %v has length %.3g, expected a unit quaternion", r, length)
	}
	if n.Matrix == gltf.DefaultMatrix {
		return nil
	}
	if r != gltf.DefaultRotation || n.Scale != gltf.DefaultScale || n.Translation != gltf.DefaultTranslation {
		return fmt.Errorf("has a matrix beside a translation, rotation or scale, expected one or the other")
	}
	m := mgl64.Mat4(n.Matrix)
	if !setAffine(&m) {
		return fmt.Errorf("matrix has the fourth row %g %g %g %g, expected 0 0 0 1", m[3], m[7], m[11], m[15])
	}
	n.Matrix = m
	return nil
}
