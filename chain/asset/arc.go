package asset

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
)

// arc is the turn from one rotation to another the short way round, at a steady
// rate (glTF 2.0, appendix C.4, with the angle from atan2 in place of arccos):
// what depends on the two alone is worked out once for all times between them.
type arc struct {
	from, to quat.Number
	// A short arc has the square of its angle and the inverse of its sine over
	// its angle, a long one the angle and the inverse of its sine.
	short          bool
	angle, inverse float64
}

// shortArc is the square of the chord up to which series serve, for rotations that lie
// 20 degrees apart: what they leave out is 1e-16 of the result.
const shortArc = 1. / 32

func newArc(from, to quat.Number) arc {
	if from.Real*to.Real+from.Imag*to.Imag+from.Jmag*to.Jmag+from.Kmag*to.Kmag < 0 {
		to = quat.Scale(-1, to)
	}
	w, x, y, z := to.Real-from.Real, to.Imag-from.Imag, to.Jmag-from.Jmag, to.Kmag-from.Kmag
	chord := w*w + x*x + y*y + z*z // squared
	if chord <= shortArc {
		// angle^2 = 4 asin^2(c/2) = 2 sum c^2n / (n^2 binomial(2n, n)); c is the chord.
		square := chord * (1 + chord*(1./12+chord*(1./90+chord*(1./560+chord*(1./3150+chord*(1./16632+chord*(1./84084)))))))
		return arc{from: from, to: to, short: true, angle: square, inverse: 1 / sinc(square)}
	}
	angle := 2 * math.Atan2(math.Sqrt(chord), quat.Abs(quat.Add(from, to)))
	return arc{from: from, to: to, angle: angle, inverse: 1 / math.Sin(angle)}
}

// at is the rotation at a fraction of the way, of length 1 but for rounding.
func (a *arc) at(t float64) quat.Number {
	s := 1 - t
	if a.short {
		s *= sinc(s*s*a.angle) * a.inverse
		t *= sinc(t*t*a.angle) * a.inverse
	} else {
		s = math.Sin(s*a.angle) * a.inverse
		t = math.Sin(t*a.angle) * a.inverse
	}
	return quat.Number{
		Real: s*a.from.Real + t*a.to.Real, Imag: s*a.from.Imag + t*a.to.Imag,
		Jmag: s*a.from.Jmag + t*a.to.Jmag, Kmag: s*a.from.Kmag + t*a.to.Kmag,
	}
}

// sinc is sin(x)/x of the square of a small x.
func sinc(square float64) float64 {
	return 1 + square*(-1./6+square*(1./120+square*(-1./5040+square*(1./362880+square*(-1./39916800)))))
}

// slerp turns from a to b the short way round, at a steady rate.
func slerp(a, b quat.Number, t float64) quat.Number {
	way := newArc(a, b)
	return unit(way.at(t))
}
