package skin

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"
)

// Hinge is where two parts of a mesh meet and may pass into one another, at
// rest.
type Hinge struct {
	At     r3.Vec
	Radius float64 // metres; what is farther from At is not looked at
	// Join is the distance at rest (metres) within which the parts belong
	// together: a vertex no farther than this from a vertex of the other part is
	// never counted as inside it. At 0 only vertices that both have are exempt.
	Join float64
}

// Fold measures how deep two parts of a mesh lie in one another at a hinge. It
// keeps room for its work: only one may measure at a time. [NewFold] makes it; the
// zero value is of no use.
type Fold struct {
	vertices int
	parts    [2]foldPart
	// atRest is how deep a vertex lay at rest, for the tested vertices.
	atRest map[int]float64
}

// foldPart is one side of a hinge.
type foldPart struct {
	shell  shell
	tested []int // its vertices that must not lie in the other part
	tree   tree  // of the closed part's triangles
}

// NewFold prepares two parts of a mesh at rest, given by marks on its triangles
// ([Mesh.Sides] makes them). Of each the triangles count that have a vertex
// within the hinge's radius. They are closed by fans of triangles over every
// hole, from the centre of its edge (the mean of its places, each with its share
// of the edge's length at rest), towards the hinge and away from it. The mesh's
// influences are not looked at.
//
// It is an error if the mesh does not pass Check, the marks are not as many as
// the triangles or give one to both parts, or the hinge is not finite.
func NewFold(m Mesh, a, b []bool, hinge Hinge) (*Fold, error) {
	if !finite(hinge.At) || !(hinge.Radius > 0) || !(hinge.Join >= 0) {
		return nil, fmt.Errorf("skin: hinge at %v, radius %v, join %v, expected a finite point, above 0 and at least 0", hinge.At, hinge.Radius, hinge.Join)
	}
	f := &Fold{vertices: len(m.Positions), atRest: map[int]float64{}}
	weld := welded(m.Positions)
	var near [2]Mesh
	for side, marks := range [2][]bool{a, b} {
		if len(marks) != len(m.Triangles) {
			return nil, fmt.Errorf("skin: %d marks, expected one for each of %d triangles", len(marks), len(m.Triangles))
		}
		part, err := partOf(m, marks)
		if err != nil {
			return nil, err
		}
		near[side] = part.near(hinge)
		f.parts[side].shell = wholeShell(near[side], weld)
		f.parts[side].tree = newTree(f.parts[side].shell.triangles(nil, m.Positions))
	}
	for i := range a {
		if a[i] && b[i] {
			return nil, fmt.Errorf("skin: triangle %d is marked for both parts, expected one at most", i)
		}
	}
	for side := range f.parts {
		f.parts[side].tested = apart(near[side], near[1-side], weld, hinge.Join)
	}
	depth := make([]float64, len(m.Positions))
	f.measure(depth, m.Positions)
	for v, d := range depth {
		if d > 0 {
			f.atRest[v] = d
		}
	}
	return f, nil
}

// near is the mesh with the triangles within reach of a hinge.
func (m Mesh) near(hinge Hinge) Mesh {
	out := Mesh{Positions: m.Positions}
	for _, t := range m.Triangles {
		for _, v := range t {
			if r3.Norm(r3.Sub(m.Positions[v], hinge.At)) <= hinge.Radius {
				out.Triangles = append(out.Triangles, t)
				break
			}
		}
	}
	return out
}

// wholeShell closes all of a mesh.
func wholeShell(m Mesh, weld []int) shell {
	found := newPlaces(weld)
	polygons := make([][]int, len(m.Triangles))
	for i, t := range m.Triangles {
		polygons[i] = []int{found.vertex(t[0]), found.vertex(t[1]), found.vertex(t[2])}
	}
	return newShell(found.list, polygons, m.Positions)
}

// apart lists the vertices of a part that are not shared with the other one and
// farther than join from all of its.
func apart(part, other Mesh, weld []int, join float64) []int {
	shared := map[int]bool{}
	var points [][3]r3.Vec // triangles that are but a point
	for _, t := range other.Triangles {
		for _, v := range t {
			if !shared[weld[v]] {
				shared[weld[v]] = true
				p := other.Positions[v]
				points = append(points, [3]r3.Vec{p, p, p})
			}
		}
	}
	joints := newTree(points)
	listed := map[int]bool{}
	var out []int
	for _, t := range part.Triangles {
		for _, v := range t {
			if listed[v] || shared[weld[v]] {
				continue
			}
			listed[v] = true
			if join == 0 || joints.nearest(part.Positions[v]) > join {
				out = append(out, v)
			}
		}
	}
	return out
}

// Depth is how far the two parts lie in one another.
type Depth struct {
	Worst  float64 // metres, of the deepest vertex; 0 where none is inside
	Vertex int     // the deepest vertex, the first of equals; -1 where none is inside
	Inside int     // how many vertices are
}

// Measure is how deep, in a posed mesh, the vertices of either part lie inside
// the other: the distance to the closed part's surface, its fans included, and
// so the shortest way out; less what it was at rest. A vertex is inside where
// the closed part winds round it, by more than half. Vertices that both parts
// share, or that lie within the hinge's join of the other part at rest, are
// exempt.
//
// It overwrites dst, grown if need be, and returns it: the depth of each of the
// mesh's vertices in metres, 0 for those outside, exempt or in neither part.
// With room in dst nothing is allocated. posed has a place for each vertex of
// the mesh at rest; any other number panics. A vertex that is not finite is not
// inside.
//
// The work grows with the triangles, and for each vertex of one part that lies in
// the box round the other with the few of that one's that are near it or near a
// line from it; but with all of them for a vertex that lies on the surface, to
// within rounding.
func (f *Fold) Measure(dst []float64, posed []r3.Vec) ([]float64, Depth) {
	mustMatch(len(posed), f.vertices)
	dst = sized(dst, len(posed))
	clear(dst)
	f.measure(dst, posed)
	depth := Depth{Vertex: -1}
	for v := range dst {
		if dst[v] > 0 && len(f.atRest) > 0 {
			dst[v] = max(dst[v]-f.atRest[v], 0)
		}
		if dst[v] > 0 {
			depth.Inside++
		}
		if dst[v] > depth.Worst {
			depth.Worst, depth.Vertex = dst[v], v
		}
	}
	return dst, depth
}

func (f *Fold) measure(dst []float64, posed []r3.Vec) {
	for side := range f.parts {
		f.parts[side].follow(posed)
	}
	for side := range f.parts {
		other := &f.parts[1-side]
		for _, v := range f.parts[side].tested {
			dst[v] = other.depth(posed[v])
		}
	}
}

// follow lays the closed part's triangles out in a pose.
func (p *foldPart) follow(posed []r3.Vec) {
	p.tree.triangles = p.shell.triangles(p.tree.triangles[:0], posed)
	p.tree.fit(0, p.tree.order)
}

// depth is how deep a point lies in the part, 0 outside.
func (p *foldPart) depth(at r3.Vec) float64 {
	box := p.tree.boxes[0]
	low, high := r3.Sub(at, box.Min), r3.Sub(box.Max, at)
	if !(min(low.X, low.Y, low.Z, high.X, high.Y, high.Z) > 0) || !finite(low) || !finite(high) {
		return 0
	}
	if !p.tree.contains(at) {
		return 0
	}
	return p.tree.nearest(at)
}
