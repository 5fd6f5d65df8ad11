package skin

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Sections are cuts through a limb across its bone. They are cut at rest and
// kept as places on the mesh's edges, so that they can be followed to any pose.
// Measuring changes nothing in them; any number may measure at once.
type Sections struct {
	bone     Bone
	vertices int
	cuts     []cut
}

// cut is a section: its places, the lines between them that the triangles make,
// counter-clockwise about the bone at rest, and what it was at rest.
type cut struct {
	u      float64
	loops  int
	places []place
	lines  [][2]int
	share  []float64 // half the length of a place's lines at rest, over the sum
	spoke  []r3.Vec  // from the centre to each place, at rest
	radius float64   // mean length of the spokes, by the shares
	area   float64
}

// NewSections cuts a limb across its bone at stations, places along the bone
// from 0 at its root to 1 at its end (places beyond are taken too). limb marks
// the triangles that belong to it, as [Mesh.TrianglesOf] does; nil takes all.
// The mesh's influences are not looked at.
//
// A vertex in the plane of a station nearer to the root than the end counts to
// the root's side, one of other stations to the end's, so that a tube's first
// and last rings are its sections at 0 and 1. Vertices at the same place are
// taken as one.
//
// A cut is made of loops, closed but where the limb is. Those that do not go
// round the bone are left out: along a loop that does, the direction from the
// bone's line turns by more than half a turn in all. A station where no loop is
// left has none, and measures NaN.
//
// It is an error if the bone has no length, a station is not finite, the marks
// are not as many as the triangles, or the mesh does not pass Check.
func NewSections(m Mesh, limb []bool, bone Bone, stations []float64) (*Sections, error) {
	part, err := partOf(m, limb)
	if err != nil {
		return nil, err
	}
	if err := bone.check(); err != nil {
		return nil, err
	}
	s := &Sections{bone: bone, vertices: len(m.Positions), cuts: make([]cut, len(stations))}
	weld := welded(m.Positions)
	for k, u := range stations {
		if math.IsNaN(u) || math.IsInf(u, 0) {
			return nil, fmt.Errorf("skin: station %d is %v, expected a place along the bone, 0 to 1", k, u)
		}
		s.cuts[k] = newCut(part, weld, bone, u)
	}
	return s, nil
}

// partOf is the mesh with the marked triangles only, checked, without its
// influences.
func partOf(m Mesh, marked []bool) (Mesh, error) {
	part := Mesh{Positions: m.Positions, Triangles: m.Triangles}
	if err := part.Check(0); err != nil {
		return Mesh{}, err
	}
	if marked == nil {
		return part, nil
	}
	if len(marked) != len(m.Triangles) {
		return Mesh{}, fmt.Errorf("skin: %d marks, expected one for each of %d triangles", len(marked), len(m.Triangles))
	}
	part.Triangles = nil
	for i, t := range m.Triangles {
		if marked[i] {
			part.Triangles = append(part.Triangles, t)
		}
	}
	return part, nil
}

func newCut(m Mesh, weld []int, bone Bone, u float64) cut {
	height := bone.heights(m, u)
	beyond := func(v int) bool { return height[v] > 0 || height[v] == 0 && u >= 0.5 }
	found := newPlaces(weld)
	at := func(i, j int) int {
		switch {
		case height[i] == 0:
			return found.vertex(i)
		case height[j] == 0:
			return found.vertex(j)
		}
		return found.cut(i, j, height, 0)
	}
	var lines [][2]int
	for _, t := range m.Triangles {
		up, down := -1, -1 // where the triangle's edge crosses upwards, and downwards
		for e := range 3 {
			i, j := t[e], t[(e+1)%3]
			if !beyond(i) && beyond(j) {
				up = at(i, j)
			} else if beyond(i) && !beyond(j) {
				down = at(i, j)
			}
		}
		if up != down { // an edge in the plane comes from one triangle, a corner from none
			lines = append(lines, [2]int{down, up})
		}
	}
	c := cut{u: u}
	c.keepRound(found.list, lines, m.Positions, bone)
	c.measureRest(m.Positions, bone.direction())
	return c
}

// keepRound keeps the loops that go round the bone.
func (c *cut) keepRound(all []place, lines [][2]int, positions []r3.Vec, bone Bone) {
	direction := bone.direction()
	loops := newGroups(len(all))
	for _, l := range lines {
		loops.join(l[0], l[1])
	}
	turn := make([]float64, len(all))
	for _, l := range lines {
		a, b := r3.Sub(all[l[0]].at(positions), bone.Root), r3.Sub(all[l[1]].at(positions), bone.Root)
		a, b = across(a, direction), across(b, direction)
		turn[loops.of(l[0])] += math.Atan2(r3.Dot(direction, r3.Cross(a, b)), r3.Dot(a, b))
	}
	number := map[int]int{}
	seen := map[int]bool{}
	for _, l := range lines {
		loop := loops.of(l[0])
		if !(math.Abs(turn[loop]) > math.Pi) {
			continue
		}
		seen[loop] = true
		var kept [2]int
		for e, p := range l {
			if _, ok := number[p]; !ok {
				number[p] = len(c.places)
				c.places = append(c.places, all[p])
			}
			kept[e] = number[p]
		}
		c.lines = append(c.lines, kept)
	}
	c.loops = len(seen)
}

func (c *cut) measureRest(positions []r3.Vec, direction r3.Vec) {
	n := len(c.places)
	c.share, c.spoke = make([]float64, n), make([]r3.Vec, n)
	var whole float64
	for _, l := range c.lines {
		length := r3.Norm(r3.Sub(c.places[l[1]].at(positions), c.places[l[0]].at(positions)))
		c.share[l[0]] += length / 2
		c.share[l[1]] += length / 2
		whole += length
	}
	for k := range c.share {
		c.share[k] /= whole
	}
	centre := c.centre(positions)
	for k, p := range c.places {
		c.spoke[k] = r3.Sub(p.at(positions), centre)
		c.radius += c.share[k] * r3.Norm(c.spoke[k])
	}
	area := c.vectorArea(positions, centre)
	c.area = r3.Norm(area)
	if r3.Dot(area, direction) < 0 { // triangles that face inwards
		for k, l := range c.lines {
			c.lines[k] = [2]int{l[1], l[0]}
		}
	}
}

// centre is the mean of the places, each taken with its share of the length at
// rest, so that it is a mean of the same skin in every pose. It is taken about
// the first place, for rounding's sake.
func (c *cut) centre(positions []r3.Vec) r3.Vec {
	if len(c.places) == 0 {
		return nowhere()
	}
	first := c.places[0].at(positions)
	var sum r3.Vec
	for k, p := range c.places {
		sum = r3.Add(sum, r3.Scale(c.share[k], r3.Sub(p.at(positions), first)))
	}
	return r3.Add(first, sum)
}

// vectorArea is half the sum of a × b over the lines: the area times the normal
// of a section that is plane, in whatever order its lines come.
func (c *cut) vectorArea(positions []r3.Vec, centre r3.Vec) r3.Vec {
	var sum r3.Vec
	for _, l := range c.lines {
		a, b := r3.Sub(c.places[l[0]].at(positions), centre), r3.Sub(c.places[l[1]].at(positions), centre)
		sum = r3.Add(sum, r3.Cross(a, b))
	}
	return r3.Scale(0.5, sum)
}

// across is what of v is at right angles to the unit vector u.
func across(v, u r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, u), u)) }
