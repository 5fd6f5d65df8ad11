package skin

import "math"

// Basis is the shape of the weights along a bone.
//
// Whichever it is, the weights at any u are never negative, add up to 1 to
// 1e-15, and have the mean u: the sum of w_i·i/(n-1) is u to 4 eps (eps =
// 2^-52), so that a twist shared out linearly arrives linearly. Segment 0 has
// all the weight at u = 0 and the last segment all of it at u = 1, exactly.
// With two segments all bases are Hat; one segment has all the weight.
//
// Any value not named here is read as Quadratic.
type Basis int

const (
	// Quadratic is smooth (C1, its slope has no jump) with up to three
	// segments at once: the default, because it leaves room for one more joint
	// among a vertex's four.
	Quadratic Basis = iota
	// Hat goes in straight lines from node to node (C0) with up to two
	// segments at once.
	Hat
	// Cubic is smoothest (C2, its curvature has no jump) with up to four
	// segments at once.
	Cubic
)

// String is the basis' name in lower case.
func (b Basis) String() string {
	switch b {
	case Hat:
		return "hat"
	case Cubic:
		return "cubic"
	}
	return "quadratic"
}

// Spread is the most segments that have weight at one place.
func (b Basis) Spread() int {
	switch b {
	case Hat:
		return 2
	case Cubic:
		return 4
	}
	return 3
}

// Weights fills dst with the weights of len(dst) segments at the place u along
// the bone, 0 at the joint and 1 at the end; u beyond is clamped. A NaN gives
// NaN throughout; an empty dst is left as it is.
func (b Basis) Weights(dst []float64, u float64) {
	if math.IsNaN(u) {
		for i := range dst {
			dst[i] = u
		}
		return
	}
	clear(dst)
	if len(dst) == 0 {
		return
	}
	w := b.window(len(dst), u)
	for i, weight := range w.weight {
		if weight > 0 { // beyond len(dst) there is none
			dst[w.first+i] = weight
		}
	}
}

// window is the weights that are not zero: weight[i] is that of segment
// first+i. Segments outside it have none.
type window struct {
	first  int
	weight [4]float64
}

// window is the weights of n >= 1 segments at u, which is not NaN.
func (b Basis) window(n int, u float64) window {
	if n == 1 {
		return window{weight: [4]float64{1}}
	}
	// The place in spans: node i and the way t from it to the next, s = 1-t.
	x := min(max(u, 0), 1) * float64(n-1)
	i := min(int(x), n-2)
	t := x - float64(i)
	switch {
	case b == Hat || n == 2:
		return hat(i, t)
	case b == Cubic:
		return cubic(i, n, t)
	}
	return quadratic(i, n, t)
}

func hat(i int, t float64) window {
	return window{first: i, weight: [4]float64{1 - t, t}}
}

// quadratic is the uniform quadratic B-spline, 3/4 - r² within half a span of
// a node and (3/2 - |r|)²/2 from there to three halves. In the half span next
// to either end the missing node's weight, handed back, leaves the hat.
func quadratic(i, n int, t float64) window {
	nearest := i
	r := t // from the nearest node, -1/2 to 1/2
	if t > 0.5 {
		nearest, r = i+1, t-1
	}
	if nearest == 0 || nearest == n-1 {
		return hat(i, t)
	}
	before, after := 0.5-r, 0.5+r
	return window{first: nearest - 1, weight: [4]float64{
		before * before / 2,
		0.75 - float64(r*r),
		after * after / 2,
	}}
}

// cubic is the uniform cubic B-spline; in its interior (s³, 4 - 6t² + 3t³, 4 -
// 6s² + 3s³, t³)/6 with s = 1-t. In the first span the missing node's s³/6,
// handed back, leaves 1 - t + t³/6, t - t³/3 and t³/6; the last span is its
// mirror image.
func cubic(i, n int, t float64) window {
	s := 1 - t
	switch i {
	case 0:
		return window{first: 0, weight: end(t)}
	case n - 2:
		w := end(s)
		return window{first: n - 3, weight: [4]float64{w[2], w[1], w[0]}}
	}
	return window{first: i - 1, weight: [4]float64{
		s * s * s / 6,
		(4 - float64(3*t*t*(2-t))) / 6,
		(4 - float64(3*s*s*(2-s))) / 6,
		t * t * t / 6,
	}}
}

// end is the cubic in the span next to an end, t from the end inwards.
func end(t float64) [4]float64 {
	cube := t * t * t
	return [4]float64{1 - t + cube/6, t - cube/3, cube / 6}
}

// count is the number of segments that have weight.
func (w window) count() int {
	count := 0
	for _, weight := range w.weight {
		if weight > 0 {
			count++
		}
	}
	return count
}

// at is the weight of a segment.
func (w window) at(segment int) float64 {
	if i := segment - w.first; i >= 0 && i < len(w.weight) {
		return w.weight[i]
	}
	return 0
}

// movedTo is the weight that has to move from segment to segment to turn w
// into other: half the sum of the differences, which, both adding up to 1, is
// the sum of what w's segments give away.
func (w window) movedTo(other window) float64 {
	var moved float64
	for i, weight := range w.weight {
		moved += max(0, weight-other.at(w.first+i))
	}
	return moved
}
