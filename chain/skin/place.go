package skin

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"
)

// place is a point on a mesh's edge that can be followed to any pose: from
// vertex i the part t of the way to vertex j. A vertex is i = j, t = 0.
type place struct {
	i, j int
	t    float64
}

func (p place) at(positions []r3.Vec) r3.Vec {
	a := positions[p.i]
	if p.i == p.j {
		return a
	}
	return r3.Add(a, r3.Scale(p.t, r3.Sub(positions[p.j], a)))
}

// Bone is a bone at rest, a line from its joint to its end, in metres.
type Bone struct {
	Root, End r3.Vec
}

// Length is the bone's length in metres.
func (bone Bone) Length() float64 { return r3.Norm(r3.Sub(bone.End, bone.Root)) }

// direction is the unit vector from the root to the end.
func (bone Bone) direction() r3.Vec { return r3.Unit(r3.Sub(bone.End, bone.Root)) }

func (bone Bone) check() error {
	if !finite(bone.Root) || !finite(bone.End) || !(bone.Length() > 0) {
		return fmt.Errorf("skin: bone from %v to %v, expected two finite points apart", bone.Root, bone.End)
	}
	return nil
}

// heights are how far along the bone the mesh's vertices lie beyond its place
// u, in metres. One that lies within rounding of the plane through u lies in
// it: 0. The rounding is that of three products and their sum, taken relative to
// the largest coordinates met.
func (bone Bone) heights(m Mesh, u float64) []float64 {
	const rounding = 8 * 0x1p-52
	direction, origin := bone.direction(), r3.Add(bone.Root, r3.Scale(u, r3.Sub(bone.End, bone.Root)))
	largest := r3.Norm(bone.Root) + r3.Norm(bone.End) + r3.Norm(origin)
	for _, t := range m.Triangles {
		for _, v := range t {
			largest = max(largest, r3.Norm(m.Positions[v]))
		}
	}
	out := make([]float64, len(m.Positions))
	for v, p := range m.Positions {
		h := r3.Dot(direction, r3.Sub(p, origin))
		if h > rounding*largest || h < -rounding*largest {
			out[v] = h
		}
	}
	return out
}

// welded numbers the vertices so that those at the same place at rest have the
// same number: a mesh is cut along the seams of its texture, a limb is not.
func welded(positions []r3.Vec) []int {
	first := make(map[r3.Vec]int, len(positions))
	out := make([]int, len(positions))
	for v, p := range positions {
		if _, ok := first[p]; !ok {
			first[p] = v
		}
		out[v] = first[p]
	}
	return out
}

// crossing names a place so that all triangles that share it agree: a welded
// vertex (twice), or a welded edge, and the plane that cuts it.
type crossing struct{ i, j, plane int }

// places collects the places that triangles meet in, each once.
type places struct {
	weld  []int
	index map[crossing]int
	list  []place
}

func newPlaces(weld []int) *places {
	return &places{weld: weld, index: map[crossing]int{}}
}

// vertex is the index of a mesh vertex' place.
func (s *places) vertex(v int) int {
	v = s.weld[v]
	return s.of(crossing{v, v, 0}, place{v, v, 0})
}

// cut is the index of the place at which a plane cuts the edge between two
// vertices that lie on different sides of it.
func (s *places) cut(i, j int, height []float64, plane int) int {
	i, j = s.weld[i], s.weld[j]
	if i > j {
		i, j = j, i
	}
	return s.of(crossing{i, j, plane}, place{i, j, height[i] / (height[i] - height[j])})
}

func (s *places) of(key crossing, p place) int {
	k, ok := s.index[key]
	if !ok {
		k = len(s.list)
		s.index[key] = k
		s.list = append(s.list, p)
	}
	return k
}

// groups joins numbers that belong together (union-find, from memory).
type groups []int

func newGroups(n int) groups {
	g := make(groups, n)
	for i := range g {
		g[i] = i
	}
	return g
}

func (g groups) of(i int) int {
	for g[i] != i {
		g[i] = g[g[i]]
		i = g[i]
	}
	return i
}

func (g groups) join(i, j int) { g[g.of(i)] = g.of(j) }
