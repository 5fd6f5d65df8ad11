package swing

import (
	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Centred returns the swing that carries axis to to by way of centre:
// Arc(centre, to) * Arc(axis, centre), and whether it is determined. Like
// Arc(axis, to) it depends on the pose alone and is exactly the identity at
// to = axis (also up to a power of two). But it rolls by tan(∠(centre,to)/2)
// radians a radian of sideways motion, not by tan(∠(axis,to)/2), so a centre
// in the middle of a joint's range keeps the roll low all over it. With centre
// = axis it is [Arc]. The twists that the two fields leave differ by the
// signed solid angle of the triangle (axis, centre, to).
//
// All three are directions in one frame, of any finite non-zero length. The
// real part of the result is not negative. It is not determined, and false,
// where to is opposite centre or centre opposite axis; the half turn of Arc
// then stands in. A zero input gives the identity and false, NaN or Inf NaN
// and false. The error is that of the two arcs, each [MaxArcError] over the
// cosine of half of it, in radians, and a product's rounding.
func Centred(axis, centre, to r3.Vec) (quat.Number, bool) {
	a, ka := steady.Unit(axis)
	c, kc := steady.Unit(centre)
	d, kd := steady.Unit(to)
	switch max(ka, kc, kd) {
	case steady.Zero:
		return identity, false
	case steady.Improper:
		return quat.NaN(), false
	}
	first, determined := arc(a, c)
	if d == a {
		// The two arcs undo each other; their rounded product need not.
		return identity, determined
	}
	second, also := arc(c, d)
	s := steady.Product(second, first)
	if s.Real < 0 {
		s = quat.Scale(-1, s)
	}
	return s, determined && also
}
