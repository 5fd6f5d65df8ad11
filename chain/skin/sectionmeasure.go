package skin

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
)

// Section is what has become of a section of a limb. Where no loop goes round
// the bone all but Station, Along and Loops are NaN.
type Section struct {
	Station float64 // place along the bone at rest, 0 at the root, 1 at the end
	Along   float64 // the same in metres
	Loops   int     // how many loops go round the bone
	Centre  r3.Vec  // mean of the section's outline
	// Radius is the mean distance of the outline from the centre, by length,
	// over what it was at rest: 1 where nothing is lost.
	Radius float64
	// LeastRadius is the least distance of a point of the outline from the
	// centre over what that point's was at rest.
	LeastRadius float64
	// Area is the magnitude of the vector area, over what it was at rest.
	Area float64
	// Turn is how far the section has turned about the bone (radians), NaN where
	// it has collapsed to a point or a line through the bone.
	Turn float64
}

// minFlat is the part of its area at rest from which on a section has a plane:
// the direction of the vector area is then right to the square root of eps.
const minFlat = 0x1p-26

// Len is the number of stations.
func (s *Sections) Len() int { return len(s.cuts) }

// Bone is the bone the sections were cut across.
func (s *Sections) Bone() Bone { return s.bone }

// RestRadius is a section's mean radius at rest in metres; 0 where no loop goes
// round the bone.
func (s *Sections) RestRadius(station int) float64 { return s.cuts[station].radius }

// RestArea is a section's area at rest in square metres; 0 where no loop goes round
// the bone.
func (s *Sections) RestArea(station int) float64 { return s.cuts[station].area }

// Measure follows the sections to a posed mesh and measures them against rest.
// It overwrites dst, grown if need be, and returns it, one element a station.
// With room in dst nothing is allocated. posed has a place for each vertex of
// the mesh at rest; any other number panics.
//
// Turn is the angle, by least squares over the outline (Procrustes in the
// plane), between what the section is and what it was at rest, carried along
// without turning about the bone. What carries it is swing (zero is the
// identity) and then the shortest arc from the bone's direction to the first
// section's normal, and on from each section to the next: the turn at a station
// is against swing, the difference between two is the twist of the skin between
// them, whatever the limb bends. Turns go on from station to station by less
// than half a turn at a time, beyond a half turn in all. A section that has no
// area left to speak of, or has folded so far that its normal points back along
// the line of the sections' centres, takes over the plane of the one before.
//
// Where a limb as a whole points nearly the opposite way from rest and swing
// does not say so, which way round the first section went hangs on little, and
// so do all turns alike.
func (s *Sections) Measure(dst []Section, posed []r3.Vec, swing quat.Number) []Section {
	mustMatch(len(posed), s.vertices)
	dst = sized(dst, len(s.cuts))
	carry := rest.Frame{Rotation: swing}
	carry.Rotation = carry.Unit()
	direction := s.bone.direction()
	before := math.NaN()
	for k := range s.cuts {
		c := &s.cuts[k]
		dst[k] = Section{Station: c.u, Along: c.u * s.bone.Length(), Loops: c.loops, Centre: c.centre(posed)}
	}
	for k := range s.cuts {
		s.cuts[k].measure(&dst[k], posed, direction, onward(dst, k), &carry)
		if turn := dst[k].Turn; !math.IsNaN(turn) {
			if !math.IsNaN(before) {
				dst[k].Turn = before + math.Remainder(turn-before, 2*math.Pi)
			}
			before = dst[k].Turn
		}
	}
	return dst
}

// onward is where the line of the sections' centres leads at a station, from the
// root to the end: from the station before to the next, as far as there are any.
// Zero where it leads nowhere.
func onward(sections []Section, k int) r3.Vec {
	from, to := k, k
	if k > 0 && sections[k-1].Loops > 0 {
		from = k - 1
	}
	if k+1 < len(sections) && sections[k+1].Loops > 0 {
		to = k + 1
	}
	way := r3.Sub(sections[to].Centre, sections[from].Centre)
	switch along := sections[to].Along - sections[from].Along; {
	case along > 0:
		return way
	case along < 0:
		return r3.Scale(-1, way)
	}
	return r3.Vec{}
}

func (c *cut) measure(out *Section, posed []r3.Vec, direction, onward r3.Vec, carry *rest.Frame) {
	if len(c.places) == 0 {
		nan := math.NaN()
		out.Radius, out.LeastRadius, out.Area, out.Turn = nan, nan, nan, nan
		return
	}
	area := c.vectorArea(posed, out.Centre)
	out.Area = r3.Norm(area) / c.area
	normal := carry.Direction(direction)
	if out.Area > minFlat && r3.Dot(onward, area) >= 0 {
		if arc, ok := swing.Arc(normal, area); ok {
			carry.Rotation = quat.Mul(arc, carry.Rotation)
			normal = carry.Direction(direction)
		}
	}
	out.LeastRadius = math.Inf(1)
	var radius, sin, cos, spread float64
	for k, p := range c.places {
		was, is := c.spoke[k], r3.Sub(p.at(posed), out.Centre)
		far, near := r3.Norm(was), r3.Norm(is)
		radius += c.share[k] * near
		spread += c.share[k] * far * far
		if far > 0 {
			out.LeastRadius = min(out.LeastRadius, near/far)
		}
		was = carry.Direction(was)
		sin += c.share[k] * r3.Dot(normal, r3.Cross(was, is))
		cos += c.share[k] * r3.Dot(was, is)
	}
	out.Radius = radius / c.radius
	out.Turn = math.Atan2(sin, cos)
	if !(math.Hypot(sin, cos) > minFlat*spread) {
		out.Turn = math.NaN()
	}
}

// Outline follows a station's outline to a posed mesh: its lines, in no order,
// for drawing. It overwrites dst, grown if need be, and returns it.
func (s *Sections) Outline(dst [][2]r3.Vec, station int, posed []r3.Vec) [][2]r3.Vec {
	mustMatch(len(posed), s.vertices)
	c := &s.cuts[station]
	dst = sized(dst, len(c.lines))
	for k, l := range c.lines {
		dst[k] = [2]r3.Vec{c.places[l[0]].at(posed), c.places[l[1]].at(posed)}
	}
	return dst
}

// TwistDensity is how much the skin twists along the bone from each section to
// the next, in radians a metre of the bone at rest: one element fewer than there
// are sections. It overwrites dst, grown if need be, and returns it. NaN where a
// turn is not defined or two sections are at the same place.
func TwistDensity(dst []float64, sections []Section) []float64 {
	dst = sized(dst, max(len(sections)-1, 0))
	for k := range dst {
		a, b := &sections[k], &sections[k+1]
		dst[k] = (b.Turn - a.Turn) / (b.Along - a.Along)
		if a.Along == b.Along {
			dst[k] = math.NaN()
		}
	}
	return dst
}

// mustMatch panics where a posed mesh is not the mesh it is said to be: a slip
// of the program, not of its data.
func mustMatch(posed, vertices int) {
	if posed != vertices {
		panic(fmt.Sprintf("skin: %d posed vertices, expected %d as at rest", posed, vertices))
	}
}
