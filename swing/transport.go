package swing

import (
	"math"

	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/spatial/r3"
)

// minMirror is the squared length below which the second mirror of a step of
// [Transport] counts as having no direction: at sqrt(eps) the roundings of two
// unit vectors, eps each, turn it by sqrt(eps).
const minMirror = 0x1p-52

// Transport carries the reference direction start along a path without roll
// and writes it for every point: unit vectors, perpendicular to the tangents,
// that turn about the tangent as little as a frame on this path can.
//
// points are positions along the path, tangents the directions of travel there
// (any finite non-zero length); where their numbers differ the shorter counts.
// start need not be perpendicular to the first tangent: its part across is
// used, and [Perpendicular] of the tangent where there is none. The result is
// written to dst, which may be points, tangents or nil, and returned with one
// element a point; a dst too short is replaced by a new slice.
//
// A point with NaN, Inf or a zero tangent gives NaN for that point; the
// transport goes on from the last good one. A start with NaN or Inf gives NaN
// throughout. A step that does not move takes
// the shortest arc of the tangents.
//
// Each step is two reflections: in the plane halfway between the points, then
// in the one that brings the reflected tangent to the next tangent. The error
// against the continuous frame falls with the fourth power of the step.
// Source: Wang, Jüttler, Zheng and Liu 2008, "Computation of rotation
// minimizing frames", ACM Transactions on Graphics 27(1):2,
// doi 10.1145/1330511.1330513.
func Transport(dst, points, tangents []r3.Vec, start r3.Vec) []r3.Vec {
	n := min(len(points), len(tangents))
	if cap(dst) < n {
		dst = make([]r3.Vec, n)
	}
	dst = dst[:n]
	var x, t, r r3.Vec // the last good point, its tangent and its reference
	begun := false
	for i := range dst {
		point := points[i]
		tangent, k := steady.Unit(tangents[i])
		if k != steady.Proper || !finite(point) {
			dst[i] = nan
			continue
		}
		if begun {
			r = step(x, point, t, tangent, r)
		} else {
			r, begun = start, true
		}
		r = across(r, tangent)
		x, t = point, tangent
		dst[i] = r
	}
	return dst
}

// step carries r from the point x with unit tangent t to y with unit tangent u.
func step(x, y, t, u, r r3.Vec) r3.Vec {
	// Halved, the difference of two finite numbers cannot overflow.
	v1, k := steady.Unit(r3.Sub(steady.Scale(0.5, y), steady.Scale(0.5, x)))
	if k == steady.Proper {
		v2 := r3.Sub(u, mirror(t, v1))
		if vv := steady.Norm2(v2); vv > minMirror {
			v2 = steady.Over(v2, math.Sqrt(vv))
			return mirror(mirror(r, v1), v2)
		}
	}
	// Without two mirrors, turn the tangent the shortest way.
	s, _ := arc(t, u)
	return steady.Rotate(s, r)
}

// mirror reflects v in the plane perpendicular to the unit vector m.
func mirror(v, m r3.Vec) r3.Vec { return steady.Less(v, 2*steady.Dot(v, m), m) }

// across returns the unit vector of v's part perpendicular to the unit vector
// t, or a fixed perpendicular of t where v has none.
func across(v, t r3.Vec) r3.Vec {
	u, k := steady.Unit(v)
	if k == steady.Improper {
		return nan
	}
	for range 2 { // the second time takes out what rounding left in the first
		u = steady.Less(u, steady.Dot(u, t), t)
		uu := steady.Norm2(u)
		if uu < minMirror {
			return perpendicular(t)
		}
		u = steady.Over(u, math.Sqrt(uu))
	}
	return u
}
