package swing

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Region is a part of the sphere of directions inside one closed edge, such as
// a joint's range of motion. The zero value is no region.
type Region struct {
	edge            []r3.Vec // unit, finely sampled, with the region on its left seen from outside
	area, perimeter float64
}

// edgeStep is how densely edges are sampled, in radians: a chord for an arc of
// it leaves out edgeStep^2/24 of the arc's length, 8e-7.
const edgeStep = math.Pi / 720

// frameSlack is how far lengths and right angles of a frame may be off, ten
// times what float32 rounds off.
const frameSlack = 1e-6

// Area is the region's solid angle in steradians.
func (r Region) Area() float64 { return r.area }

// Perimeter is the length of the region's edge in radians. By Stokes' theorem
// no field of swings rolls by less than Area/Perimeter radians a radian, on
// average along the edge.
func (r Region) Perimeter() float64 { return r.perimeter }

// Edge returns a copy of the edge, sampled every quarter of a degree or more
// densely; the last direction is followed by the first.
func (r Region) Edge() []r3.Vec { return append([]r3.Vec(nil), r.edge...) }

// Cap is the region of all directions within radius (radians, over 0 and below
// pi) of centre.
func Cap(centre r3.Vec, radius float64) (Region, error) {
	c, k := unitVec(centre)
	if k != proper {
		return Region{}, fmt.Errorf("swing: cap: centre is %v, expected a finite direction of non-zero length", centre)
	}
	if !(radius > 0 && radius < math.Pi) {
		return Region{}, fmt.Errorf("swing: cap: radius is %g, expected radians over 0 and below pi", radius)
	}
	u := perpendicular(c)
	v := cross(c, u)
	sin, cos := math.Sincos(radius)
	n := pieces(2 * math.Pi)
	out := Region{area: 4 * math.Pi * math.Pow(math.Sin(radius/2), 2), perimeter: 2 * math.Pi * sin}
	for i := range n {
		s, c2 := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out.edge = append(out.edge, r3.Add(r3.Scale(cos, c), r3.Add(r3.Scale(sin*c2, u), r3.Scale(sin*s, v))))
	}
	return out, nil
}

// LonLat is the region between two meridians and two circles of latitude, in
// radians, where
//
//	direction = cos lat (cos lon ahead + sin lon side) + sin lat pole
//
// ahead, side and pole are unit directions at right angles, of either
// handedness. Longitudes lie within a whole turn and span one at most, latitudes
// lie within a quarter turn. Over a whole turn the two meridians are one and
// bound nothing: then they do not count for the perimeter, though the edge goes
// there and back along it.
func LonLat(ahead, side, pole r3.Vec, lon, lat [2]float64) (Region, error) {
	off := max(
		math.Abs(norm2(ahead)-1), math.Abs(norm2(side)-1), math.Abs(norm2(pole)-1),
		math.Abs(dot(ahead, side)), math.Abs(dot(side, pole)), math.Abs(dot(pole, ahead)),
	)
	if !(off < frameSlack) {
		return Region{}, fmt.Errorf("swing: region: ahead, side and pole are %v, %v and %v, expected unit directions at right angles", ahead, side, pole)
	}
	if !(lon[0] < lon[1] && lon[1]-lon[0] <= 2*math.Pi && math.Abs(lon[0]) <= 2*math.Pi) {
		return Region{}, fmt.Errorf("swing: region: longitudes are [%g, %g], expected the least before the greatest, within a turn, and a turn between them at most", lon[0], lon[1])
	}
	if !(lat[0] < lat[1] && lat[0] >= -math.Pi/2 && lat[1] <= math.Pi/2) {
		return Region{}, fmt.Errorf("swing: region: latitudes are [%g, %g], expected the least before the greatest, within a quarter turn", lat[0], lat[1])
	}
	at := func(lon, lat float64) r3.Vec {
		sinF, cosF := math.Sincos(lon)
		sinB, cosB := math.Sincos(lat)
		return r3.Unit(r3.Add(r3.Add(r3.Scale(cosB*cosF, ahead), r3.Scale(cosB*sinF, side)), r3.Scale(sinB, pole)))
	}
	var out Region
	corners := [5][2]float64{{lon[0], lat[0]}, {lon[1], lat[0]}, {lon[1], lat[1]}, {lon[0], lat[1]}, {lon[0], lat[0]}}
	for side := range 4 {
		from, to := corners[side], corners[side+1]
		n := pieces(math.Abs(to[0]-from[0]) + math.Abs(to[1]-from[1]))
		for i := range n {
			f := float64(i) / float64(n)
			out.edge = append(out.edge, at(from[0]+f*(to[0]-from[0]), from[1]+f*(to[1]-from[1])))
		}
	}
	if dot(cross(ahead, side), pole) < 0 { // seen in a mirror, the way round turns about
		turnAbout(out.edge)
	}
	out.area = (lon[1] - lon[0]) * (math.Sin(lat[1]) - math.Sin(lat[0]))
	out.perimeter = (lon[1] - lon[0]) * (math.Cos(lat[0]) + math.Cos(lat[1]))
	if 2*math.Pi-(lon[1]-lon[0]) > MinCondition {
		out.perimeter += 2 * (lat[1] - lat[0])
	}
	return out, nil
}

// Polygon is the region inside a spherical polygon: its corners are directions
// of any non-zero length, its sides shortest arcs that do not cross, with the
// region on the left as one goes round and looks at the sphere from outside.
func Polygon(corners ...r3.Vec) (Region, error) {
	if len(corners) < 3 {
		return Region{}, fmt.Errorf("swing: polygon: %d corners, expected 3 or more", len(corners))
	}
	unit := make([]r3.Vec, len(corners))
	for i, corner := range corners {
		u, k := unitVec(corner)
		if k != proper {
			return Region{}, fmt.Errorf("swing: polygon: corner %d is %v, expected a finite direction of non-zero length", i, corner)
		}
		unit[i] = u
	}
	n := len(unit)
	out := Region{area: 2 * math.Pi}
	sides, lengths := make([]r3.Vec, n), make([]float64, n)
	for i, corner := range unit {
		next := unit[(i+1)%n]
		sides[i] = cross(corner, next)
		lengths[i] = math.Atan2(math.Sqrt(norm2(sides[i])), dot(corner, next))
		if !(lengths[i] > MinCondition && lengths[i] < math.Pi-MinCondition) {
			return Region{}, fmt.Errorf("swing: polygon: corners %d and %d are equal or opposite, expected an arc between them", i, (i+1)%n)
		}
		out.perimeter += lengths[i]
	}
	for i, corner := range unit {
		next := unit[(i+1)%n]
		// Gauss and Bonnet: a turn, less the turns at the corners, is the area.
		in, away := sides[(i+n-1)%n], sides[i]
		turn := math.Atan2(dot(corner, cross(in, away)), dot(in, away))
		if math.Abs(turn) > math.Pi-math.Sqrt(MinCondition) {
			return Region{}, fmt.Errorf("swing: polygon: the sides at corner %d lie on one another, expected an angle between them", i)
		}
		out.area -= turn
		for j := i + 2; j < n; j++ {
			if (i > 0 || j < n-1) && arcsCross(corner, next, unit[j], unit[(j+1)%n]) {
				return Region{}, fmt.Errorf("swing: polygon: the sides from corners %d and %d cross or touch, expected an edge that does not", i, j)
			}
		}
		axis := r3.Unit(sides[i])
		m := pieces(lengths[i])
		for j := range m {
			sin, cos := math.Sincos(lengths[i] * float64(j) / float64(m))
			out.edge = append(out.edge, r3.Add(r3.Scale(cos, corner), r3.Scale(sin, cross(axis, corner))))
		}
	}
	if !(out.area > 0 && out.area < 4*math.Pi) {
		return Region{}, errors.New("swing: polygon: it has no inside, expected an edge round some area")
	}
	return out, nil
}

// arcsCross reports whether the shortest arcs a to b and c to d have a point
// in common.
func arcsCross(a, b, c, d r3.Vec) bool {
	m, n := cross(a, b), cross(c, d)
	ac, ad := dot(n, a), dot(n, b)
	ca, cb := dot(m, c), dot(m, d)
	if ac*ad > 0 || ca*cb > 0 {
		return false
	}
	p := cross(m, n)
	const rounding = 8 * 0x1p-52 // of either cross product
	if mm, nn := norm2(m), norm2(n); norm2(p) <= rounding*rounding*(mm+nn) {
		// On one great circle they meet if one has an end of the other.
		return onArc(c, a, b, m) || onArc(d, a, b, m) || onArc(a, c, d, n)
	}
	// The great circles meet in two opposite points; the arcs reach the same
	// one if its middle side agrees.
	return dot(p, r3.Add(a, b))*dot(p, r3.Add(c, d)) > 0
}

// onArc reports whether p, on the great circle of the arc a to b, lies on it; m
// is a×b.
func onArc(p, a, b, m r3.Vec) bool { return dot(cross(a, p), m) >= 0 && dot(cross(p, b), m) >= 0 }

// pieces is the number of samples of a length. Rounding adds none where a whole
// number fit.
func pieces(length float64) int { return max(1, int(math.Ceil(length/edgeStep-0x1p-20))) }

func turnAbout(edge []r3.Vec) {
	for i, j := 0, len(edge)-1; i < j; i, j = i+1, j-1 {
		edge[i], edge[j] = edge[j], edge[i]
	}
}
