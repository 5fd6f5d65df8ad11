package skin

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Strain is what has become of a triangle: Most and Least are its principal
// stretches, the lengths over those at rest of the two lines across it that
// stay at right angles. 1 and 1 for a triangle that was only moved.
type Strain struct {
	Most, Least float64
	// Area is the area over that at rest, Most times Least.
	Area float64
	// Shear is the most that a right angle in the triangle has changed, radians,
	// 0 to pi/2: that between the lines half way between the principal ones,
	// pi/2 - 2 atan(Least/Most).
	Shear float64
}

// Squeeze is how far the triangle is pressed together: 1 - Least, 0 where it is
// only stretched or not a number, 1 for one pressed to a line.
func (s Strain) Squeeze() float64 {
	if squeeze := 1 - s.Least; squeeze > 0 {
		return squeeze
	}
	return 0
}

// Strains measures triangles, of a mesh as [Mesh.Check] passes it, from rest to
// posed. It overwrites dst, grown if need be, and returns it, one strain a
// triangle; with room in dst nothing is allocated. A triangle without area at
// rest cannot be strained and gives 1, 1, 1, 0. One that is not finite, or has a
// vertex out of range, gives NaN.
//
// The squares of the stretches are the eigenvalues of FᵀF, F being the map from
// the triangle's plane at rest to where it is posed (Cauchy-Green; any text on
// continuum mechanics, from memory). Most and Least are right to 4 eps of Most
// over the sine of the triangle's first angle at rest (eps = 2^-52).
func Strains(dst []Strain, rest, posed []r3.Vec, triangles [][3]int) []Strain {
	dst = sized(dst, len(triangles))
	for i, t := range triangles {
		dst[i] = strain(rest, posed, t)
	}
	return dst
}

func strain(rest, posed []r3.Vec, t [3]int) Strain {
	nan := math.NaN()
	unknown := Strain{nan, nan, nan, nan}
	if !within(t, min(len(rest), len(posed))) {
		return unknown
	}
	a, b := edges(rest, t)
	pa, pb := edges(posed, t)
	length, area := r3.Norm(a), r3.Norm(r3.Cross(a, b))
	if !(length <= math.MaxFloat64 && area <= math.MaxFloat64) {
		return unknown
	}
	if area <= flat*length*r3.Norm(b) {
		return Strain{Most: 1, Least: 1, Area: 1}
	}
	// F's columns, in the plane's frame with its first axis along a: b is the
	// part shift of a, and area/length across it.
	shift := r3.Dot(a, b) / (length * length)
	x := r3.Scale(1/length, pa)
	y := r3.Scale(length/area, r3.Sub(pb, r3.Scale(shift, pa)))
	xx, xy, yy := r3.Dot(x, x), r3.Dot(x, y), r3.Dot(y, y)
	apart := math.Hypot((xx-yy)/2, xy) // half the eigenvalues' difference
	s := Strain{Most: math.Sqrt((xx+yy)/2 + apart), Area: r3.Norm(r3.Cross(pa, pb)) / area}
	if s.Most == 0 {
		return Strain{} // pressed to a point, and sheared no way
	}
	if !(s.Most <= math.MaxFloat64 && s.Area <= math.MaxFloat64) {
		return unknown
	}
	s.Least = min(s.Area/s.Most, s.Most)
	s.Shear = math.Atan2(apart, s.Area)
	return s
}

// flat is the sine of an angle below which a triangle has no area: it is what
// rounding leaves of the cross product of two edges in line.
const flat = 4 * 0x1p-52

func edges(at []r3.Vec, t [3]int) (a, b r3.Vec) {
	return r3.Sub(at[t[1]], at[t[0]]), r3.Sub(at[t[2]], at[t[0]])
}

// EdgeStretches are the lengths of each triangle's edges, from its first vertex
// to the second, on to the third and back, over those at rest. It overwrites
// dst, grown if need be, and returns it; with room in dst nothing is allocated.
// An edge without length at rest gives 1, one that is not finite or has a vertex
// out of range NaN.
func EdgeStretches(dst [][3]float64, rest, posed []r3.Vec, triangles [][3]int) [][3]float64 {
	dst = sized(dst, len(triangles))
	for i, t := range triangles {
		for e := range 3 {
			dst[i][e] = stretch(rest, posed, t[e], t[(e+1)%3])
		}
	}
	return dst
}

func stretch(rest, posed []r3.Vec, i, j int) float64 {
	if !within([3]int{i, j, j}, min(len(rest), len(posed))) {
		return math.NaN()
	}
	was := r3.Norm(r3.Sub(rest[j], rest[i]))
	if was == 0 {
		return 1
	}
	return r3.Norm(r3.Sub(posed[j], posed[i])) / was
}

func within(t [3]int, vertices int) bool {
	return min(t[0], t[1], t[2]) >= 0 && max(t[0], t[1], t[2]) < vertices
}
