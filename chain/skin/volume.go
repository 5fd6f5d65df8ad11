package skin

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Volume is the part of a limb between two places along its bone, cut out at
// rest and kept so that it can be followed to any pose. Measuring changes
// nothing in it; any number may measure at once.
type Volume struct {
	vertices int
	shells   []shell
	rest     float64
}

// NewVolume cuts a limb between the places from < to along its bone (0 at the
// root, 1 at the end). limb marks the limb's triangles, nil takes all. The
// mesh's influences are not looked at. Triangles are clipped at rest by the two
// planes across the bone; what is left of them is held by the places where they
// were cut. The two sections, and any other hole where the limb's triangles end
// in between, are closed by fans of triangles from the centre of their edge (the
// mean of its places, each with its share of the edge's length at rest).
//
// What hangs together after the cut is one part. Parts that enclose the bone's
// line at none of 16 places spread evenly over the part's own reach along it are
// left out: another limb that the planes cut too, a button.
//
// Errors are those of [NewSections], and from and to out of order.
func NewVolume(m Mesh, limb []bool, bone Bone, from, to float64) (*Volume, error) {
	part, err := partOf(m, limb)
	if err != nil {
		return nil, err
	}
	if err := bone.check(); err != nil {
		return nil, err
	}
	if !(from < to) || math.IsInf(from, 0) || math.IsInf(to, 0) {
		return nil, fmt.Errorf("skin: volume from %v to %v along the bone, expected the first before the second", from, to)
	}
	found := newPlaces(welded(m.Positions))
	polygons := clip(part, found, bone.heights(part, from), bone.heights(part, to))
	v := &Volume{vertices: len(m.Positions)}
	for _, polygons := range parted(polygons, len(found.list)) {
		s := newShell(found.list, polygons, m.Positions)
		if encloses(s.triangles(nil, m.Positions), bone) {
			v.shells = append(v.shells, s)
		}
	}
	v.rest = v.Measure(m.Positions)
	return v, nil
}

// encloses tells whether a closed surface encloses the bone's line anywhere that
// is looked at.
func encloses(triangles [][3]r3.Vec, bone Bone) bool {
	const places = 16
	direction := bone.direction()
	low, high := math.Inf(1), math.Inf(-1)
	for _, t := range triangles {
		for _, p := range t {
			h := r3.Dot(direction, r3.Sub(p, bone.Root))
			low, high = min(low, h), max(high, h)
		}
	}
	for k := range places {
		h := low + (high-low)*(float64(k)+0.5)/places
		if isInside(triangles, r3.Add(bone.Root, r3.Scale(h, direction))) {
			return true
		}
	}
	return false
}

// clip is what two planes across the bone leave of the triangles, as polygons
// of places. low and high are the vertices' heights beyond the planes.
func clip(m Mesh, found *places, low, high []float64) [][]int {
	var out [][]int
	for _, t := range m.Triangles {
		var polygon []int
		for e := range 3 {
			i, j := t[e], t[(e+1)%3]
			if low[i] >= 0 && high[i] <= 0 {
				polygon = append(polygon, found.vertex(i))
			}
			// An edge meets the planes in the order in which it runs.
			if low[i] < 0 && low[j] > 0 {
				polygon = append(polygon, found.cut(i, j, low, 0))
			}
			if high[i] < 0 && high[j] > 0 || high[i] > 0 && high[j] < 0 {
				polygon = append(polygon, found.cut(i, j, high, 1))
			}
			if low[i] > 0 && low[j] < 0 {
				polygon = append(polygon, found.cut(i, j, low, 0))
			}
		}
		if len(polygon) > 2 {
			out = append(out, polygon)
		}
	}
	return out
}

// parted sorts polygons into those that hang together by their places, in the
// order in which they are met.
func parted(polygons [][]int, places int) [][][]int {
	together := newGroups(places)
	for _, polygon := range polygons {
		for _, p := range polygon {
			together.join(polygon[0], p)
		}
	}
	number := map[int]int{}
	var out [][][]int
	for _, polygon := range polygons {
		group := together.of(polygon[0])
		k, ok := number[group]
		if !ok {
			k = len(out)
			number[group] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], polygon)
	}
	return out
}

// Rest is the volume at rest in cubic metres, negative for triangles that face
// inwards; 0 where nothing encloses the bone.
func (v *Volume) Rest() float64 { return v.rest }

// Measure is the volume of the same part of a posed mesh, in cubic metres, in
// Rest's sign. Where the skin passes through itself, what it encloses twice
// counts twice, and what it encloses inside out is taken off. It allocates
// nothing. posed has a place for each vertex of the mesh at rest; any other
// number panics.
func (v *Volume) Measure(posed []r3.Vec) float64 {
	mustMatch(len(posed), v.vertices)
	var sum float64
	for k := range v.shells {
		sum += v.shells[k].volume(posed)
	}
	return sum
}

// Ratio is [Volume.Measure] over [Volume.Rest], NaN where there is nothing at rest.
func (v *Volume) Ratio(posed []r3.Vec) float64 { return v.Measure(posed) / v.rest }
