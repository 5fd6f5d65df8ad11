package skin

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// contains tells, as isInside does, whether the tree's triangles, a closed
// surface, go round a point. The ray from the point along X is counted through
// them; where the point is too near to one of them for that, all are summed up.
func (t *tree) contains(p r3.Vec) bool {
	times, sure := t.crossings(0, t.order, p)
	if !sure {
		return isInside(t.triangles, p)
	}
	return times != 0
}

// crossings is how often the ray from p along X leaves through a node's
// triangles, less how often it comes in: for a closed surface how often that
// goes round p. It is not sure where p is too near to the plane of a triangle.
func (t *tree) crossings(node int, run []int, p r3.Vec) (times int, sure bool) {
	if missed(&t.boxes[node], p) {
		return 0, true
	}
	if t.isLeaf(node) {
		for _, i := range run {
			once, sure := through(&t.triangles[i], p)
			if !sure {
				return 0, false
			}
			times += once
		}
		return times, true
	}
	half := len(run) / 2
	first, sure := t.crossings(2*node+1, run[:half], p)
	if !sure {
		return 0, false
	}
	second, sure := t.crossings(2*node+2, run[half:], p)
	return first + second, sure
}

// missed tells that the ray from p along X does not meet a box.
func missed(box *r3.Box, p r3.Vec) bool {
	return p.X > box.Max.X || p.Y < box.Min.Y || p.Y > box.Max.Y || p.Z < box.Min.Z || p.Z > box.Max.Z
}

// through is 1 where the ray from p along X leaves through a triangle, -1 where
// it comes in, 0 where it misses. Which of the triangles that share an edge the
// ray goes through is settled by turns, for all of them alike; for them all the
// crossing is before or behind p, unless p is within rounding of the surface.
// So near it is not sure: triple is right to 36 half-eps of the product of the
// three lengths (Shewchuk 1997, Discrete Comput. Geom. 18:305-363, gives 7 of
// the sum of its terms, each positive, which is 3 sqrt(3) times the product at
// most), and the bound taken is three times that.
func through(c *[3]r3.Vec, p r3.Vec) (times int, sure bool) {
	const rounding = 0x1p-46
	box := widened(widened(r3.Box{Min: c[0], Max: c[0]}, c[1]), c[2])
	if missed(&box, p) {
		return 0, true
	}
	turn := turns(c[0], c[1], p) + turns(c[1], c[2], p) + turns(c[2], c[0], p)
	if p.X < box.Min.X {
		return turn, true
	}
	u, v, w := r3.Sub(c[0], p), r3.Sub(c[1], p), r3.Sub(c[2], p)
	side := triple(u, v, w) // positive on the inner side
	if !(math.Abs(side) > rounding*math.Sqrt(r3.Norm2(u))*math.Sqrt(r3.Norm2(v))*math.Sqrt(r3.Norm2(w))) {
		return 0, false
	}
	if (side > 0) == (turn > 0) {
		return turn, true
	}
	return 0, true
}

// turns counts a line from a to b, seen against X, by the half-line from p that
// it crosses: 1 to the left, -1 to the right, 0 where it does not. Round a
// triangle they add up to how often its outline goes round p (the winding number
// of a polygon, from memory). From b to a it is exactly the opposite: the
// products are rounded one by one, or they would not cancel alike.
func turns(a, b, p r3.Vec) int {
	if (a.Y <= p.Y) == (b.Y <= p.Y) {
		return 0
	}
	left := float64((a.Y-p.Y)*(b.Z-p.Z)) - float64((a.Z-p.Z)*(b.Y-p.Y))
	switch {
	case a.Y <= p.Y && left > 0:
		return 1
	case b.Y <= p.Y && left < 0:
		return -1
	}
	return 0
}
