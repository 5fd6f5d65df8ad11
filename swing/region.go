package swing

import (
	"errors"
	"fmt"
	"math"

	"github.com/pronate/pronate/internal/steady"
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
	c, k := steady.Unit(centre)
	if k != steady.Proper {
		return Region{}, fmt.Errorf("swing: cap: centre is %v, expected a finite direction of non-zero length", centre)
	}
	if !(radius > 0 && radius < math.Pi) {
		return Region{}, fmt.Errorf("swing: cap: radius is %g, expected radians over 0 and below pi", radius)
	}
	u := perpendicular(c)
	v := steady.Cross(c, u)
	sin, cos := steady.Sincos(radius)
	half, _ := steady.Sincos(radius / 2)
	n := pieces(2 * math.Pi)
	out := Region{area: 4 * math.Pi * half * half, perimeter: 2 * math.Pi * sin}
	for i := range n {
		s, c2 := steady.Sincos(2 * math.Pi * float64(i) / float64(n))
		out.edge = append(out.edge, steady.Along(sin*c2, u, sin*s, v, cos, c))
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
		math.Abs(steady.Norm2(ahead)-1), math.Abs(steady.Norm2(side)-1), math.Abs(steady.Norm2(pole)-1),
		math.Abs(steady.Dot(ahead, side)), math.Abs(steady.Dot(side, pole)), math.Abs(steady.Dot(pole, ahead)),
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
		sinF, cosF := steady.Sincos(lon)
		sinB, cosB := steady.Sincos(lat)
		direction, _ := steady.Unit(steady.Along(cosB*cosF, ahead, cosB*sinF, side, sinB, pole))
		return direction
	}
	var out Region
	corners := [5][2]float64{{lon[0], lat[0]}, {lon[1], lat[0]}, {lon[1], lat[1]}, {lon[0], lat[1]}, {lon[0], lat[0]}}
	for side := range 4 {
		from, to := corners[side], corners[side+1]
		n := pieces(math.Abs(to[0]-from[0]) + math.Abs(to[1]-from[1]))
		for i := range n {
			f := float64(i) / float64(n)
			out.edge = append(out.edge, at(from[0]+float64(f*(to[0]-from[0])), from[1]+float64(f*(to[1]-from[1]))))
		}
	}
	if steady.Dot(steady.Cross(ahead, side), pole) < 0 { // seen in a mirror, the way round turns about
		turnAbout(out.edge)
	}
	sinLow, cosLow := steady.Sincos(lat[0])
	sinHigh, cosHigh := steady.Sincos(lat[1])
	out.area = (lon[1] - lon[0]) * (sinHigh - sinLow)
	out.perimeter = float64((lon[1] - lon[0]) * (cosLow + cosHigh))
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
		u, k := steady.Unit(corner)
		if k != steady.Proper {
			return Region{}, fmt.Errorf("swing: polygon: corner %d is %v, expected a finite direction of non-zero length", i, corner)
		}
		unit[i] = u
	}
	n := len(unit)
	out := Region{area: 2 * math.Pi}
	sides, lengths := make([]r3.Vec, n), make([]float64, n)
	for i, corner := range unit {
		next := unit[(i+1)%n]
		sides[i] = steady.Cross(corner, next)
		lengths[i] = steady.Atan2(math.Sqrt(steady.Norm2(sides[i])), steady.Dot(corner, next))
		if !(lengths[i] > MinCondition && lengths[i] < math.Pi-MinCondition) {
			return Region{}, fmt.Errorf("swing: polygon: corners %d and %d are equal or opposite, expected an arc between them", i, (i+1)%n)
		}
		out.perimeter += lengths[i]
	}
	for i, corner := range unit {
		next := unit[(i+1)%n]
		// Gauss and Bonnet: a turn, less the turns at the corners, is the area.
		in, away := sides[(i+n-1)%n], sides[i]
		turn := steady.Atan2(steady.Dot(corner, steady.Cross(in, away)), steady.Dot(in, away))
		if math.Abs(turn) > math.Pi-math.Sqrt(MinCondition) {
			return Region{}, fmt.Errorf("swing: polygon: the sides at corner %d lie on one another, expected an angle between them", i)
		}
		out.area -= turn
		for j := i + 2; j < n; j++ {
			if (i > 0 || j < n-1) && arcsCross(corner, next, unit[j], unit[(j+1)%n]) {
				return Region{}, fmt.Errorf("swing: polygon: the sides from corners %d and %d cross or touch, expected an edge that does not", i, j)
			}
		}
		axis, _ := steady.Unit(sides[i])
		m := pieces(lengths[i])
		for j := range m {
			sin, cos := steady.Sincos(lengths[i] * float64(j) / float64(m))
			out.edge = append(out.edge, r3.Add(steady.Scale(cos, corner), steady.Scale(sin, steady.Cross(axis, corner))))
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
	m, n := steady.Cross(a, b), steady.Cross(c, d)
	ac, ad := steady.Dot(n, a), steady.Dot(n, b)
	ca, cb := steady.Dot(m, c), steady.Dot(m, d)
	if ac*ad > 0 || ca*cb > 0 {
		return false
	}
	p := steady.Cross(m, n)
	const rounding = 8 * 0x1p-52 // of either cross product
	if mm, nn := steady.Norm2(m), steady.Norm2(n); steady.Norm2(p) <= float64(rounding*rounding*(mm+nn)) {
		// On one great circle they meet if one has an end of the other.
		return onArc(c, a, b, m) || onArc(d, a, b, m) || onArc(a, c, d, n)
	}
	// The great circles meet in two opposite points; the arcs reach the same
	// one if its middle side agrees.
	return steady.Dot(p, r3.Add(a, b))*steady.Dot(p, r3.Add(c, d)) > 0
}

// onArc reports whether p, on the great circle of the arc a to b, lies on it; m
// is a×b.
func onArc(p, a, b, m r3.Vec) bool {
	return steady.Dot(steady.Cross(a, p), m) >= 0 && steady.Dot(steady.Cross(p, b), m) >= 0
}

// pieces is the number of samples of a length. Rounding adds none where a whole
// number fit.
func pieces(length float64) int { return max(1, int(math.Ceil(float64(length/edgeStep)-0x1p-20))) }

func turnAbout(edge []r3.Vec) {
	for i, j := 0, len(edge)-1; i < j; i, j = i+1, j-1 {
		edge[i], edge[j] = edge[j], edge[i]
	}
}
