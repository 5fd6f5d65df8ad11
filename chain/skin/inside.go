package skin

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// windings is how often a closed surface goes round a point: 0 outside, 1
// inside, -1 inside one that faces inwards, a fraction on the surface. It is the
// sum of the triangles' solid angles over 4 pi (van Oosterom & Strackee 1983,
// IEEE Trans. Biomed. Eng. 30:125-126).
func windings(triangles [][3]r3.Vec, p r3.Vec) float64 {
	var sum float64
	for i := range triangles {
		a, b, c := r3.Sub(triangles[i][0], p), r3.Sub(triangles[i][1], p), r3.Sub(triangles[i][2], p)
		la, lb, lc := math.Sqrt(r3.Dot(a, a)), math.Sqrt(r3.Dot(b, b)), math.Sqrt(r3.Dot(c, c))
		sum += math.Atan2(triple(a, b, c), la*lb*lc+r3.Dot(a, b)*lc+r3.Dot(b, c)*la+r3.Dot(c, a)*lb)
	}
	return sum / (2 * math.Pi)
}

// isInside tells whether a closed surface, whichever way it faces, goes round a
// point; half a time is as good as on the surface.
func isInside(triangles [][3]r3.Vec, p r3.Vec) bool { return math.Abs(windings(triangles, p)) > 0.5 }

// nearestOn is the point of a triangle nearest to p (Ericson 2005, Real-Time
// Collision Detection, 5.1.5, from memory): a corner, a place on an edge or the
// foot of the perpendicular, whichever region p lies over.
func nearestOn(a, b, c, p r3.Vec) r3.Vec {
	ab, ac, ap := r3.Sub(b, a), r3.Sub(c, a), r3.Sub(p, a)
	d1, d2 := r3.Dot(ab, ap), r3.Dot(ac, ap)
	if d1 <= 0 && d2 <= 0 {
		return a
	}
	bp := r3.Sub(p, b)
	d3, d4 := r3.Dot(ab, bp), r3.Dot(ac, bp)
	if d3 >= 0 && d4 <= d3 {
		return b
	}
	cp := r3.Sub(p, c)
	d5, d6 := r3.Dot(ab, cp), r3.Dot(ac, cp)
	if d6 >= 0 && d5 <= d6 {
		return c
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 && d1 > d3 { // not where a and b are one
		return r3.Add(a, r3.Scale(d1/(d1-d3), ab))
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 && d2 > d6 {
		return r3.Add(a, r3.Scale(d2/(d2-d6), ac))
	}
	va := d3*d6 - d5*d4
	if va <= 0 && d4-d3 >= 0 && d5-d6 >= 0 {
		return r3.Add(b, r3.Scale((d4-d3)/((d4-d3)+(d5-d6)), r3.Sub(c, b)))
	}
	n := va + vb + vc
	return r3.Add(a, r3.Add(r3.Scale(vb/n, ab), r3.Scale(vc/n, ac)))
}
