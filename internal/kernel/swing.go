package kernel

import (
	"math"

	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// safeLow and safeHigh bound the squared norms that are used as they are:
// inside them neither a square nor its quotient overflows or loses bits.
const (
	safeLow  = 0x1p-900
	safeHigh = 0x1p+900
)

// Swing is a field of swings: the shortest arcs from the axis a by way of a
// centre c, corrected about the axis. It is stored as what the twist that it
// leaves takes. With Q = q B*, whose part along c and real part are p and w, and
// whose parts along the unit directions x and y across c are x and y, the place
// of d in the field's plane (swing.Field.Plane) is
//
//	(x p + y w, y p - x w) / (w^2 + p^2)
//
// for Q = arc(c to d) t has its part across turned by half the twist: no root
// and no angle is needed to look the correction up.
type Swing struct {
	Half r3.Vec  // unit direction half-way from a to c
	Cos  float64 // cosine of half the angle between a and c
	Sin  r3.Vec  // its sine, times the unit normal of the turn from a to c

	field *swing.Field // nil where there is no correction
	rest  float64      // half the correction at the identity, computed as it is for other poses
	x, y  probe
}

// probe reads a component of q B* off q.
type probe struct {
	real float64
	imag r3.Vec
}

func (p *probe) of(q *quat.Number) float64 {
	return float64(q.Real*p.real) + (float64(q.Imag*p.imag.X) + float64(q.Jmag*p.imag.Y) + float64(q.Kmag*p.imag.Z))
}

// NewSwing prepares a field.
func NewSwing(field *swing.Field) Swing {
	arc, axis := field.Arc(), field.Axis()
	sin := r3.Vec{X: arc.Imag, Y: arc.Jmag, Z: arc.Kmag}
	s := Swing{
		Half: r3.Add(r3.Scale(arc.Real, axis), r3.Cross(sin, axis)),
		Cos:  arc.Real,
		Sin:  sin,
	}
	if field.IsCorrected() {
		// (w, v) B* has the vector part beta v - w b - v x b.
		across := func(e r3.Vec) probe {
			return probe{real: -r3.Dot(sin, e), imag: r3.Sub(r3.Scale(arc.Real, e), r3.Cross(sin, e))}
		}
		x, y := field.Frame()
		s.field, s.x, s.y = field, across(x), across(y)
		s.rest = s.correction(&quat.Number{Real: 1}, 0, arc.Real, arc.Real)
	}
	return s
}

// correction is half of chi where q points, for q B* with the parts p and w and
// n = hypot(w, p).
func (s *Swing) correction(q *quat.Number, p, w, n float64) float64 {
	inverse := 1 / float64(n*n)
	x, y := s.x.of(q), s.y.of(q)
	return 0.5*s.field.CorrectionAt(
		float64((float64(x*p)+float64(y*w))*inverse),
		float64((float64(y*p)-float64(x*w))*inverse),
	) - s.rest
}

// Twist is what a swing leaves of a rotation: a turn about the axis.
type Twist struct {
	Half      float64 // half its angle, radians in (-pi/2, pi/2]
	Sin, Cos  float64 // of Half
	Condition float64 // cosine of half the swing away from the centre, in [0, 1]
	Defined   bool    // false for a half-turn swing and for a zero rotation; then it is no turn
}

// set stores a twist number by number: assigned as a whole it would be copied
// in wider pieces than it was written in, which stalls the processor.
func (t *Twist) set(half, sin, cos, condition float64, defined bool) {
	t.Half, t.Sin, t.Cos, t.Condition, t.Defined = half, sin, cos, condition, defined
}

// Twist stores in t the twist that the swing leaves of q, which may have any
// finite non-zero length. It is undefined where the condition is below
// twist.MinCondition; NaN or Inf in q gives NaN. The identity gives exactly 0.
func (s *Swing) Twist(t *Twist, q quat.Number) {
	norm2 := float64(q.Real*q.Real) + float64(q.Imag*q.Imag) + float64(q.Jmag*q.Jmag) + float64(q.Kmag*q.Kmag)
	if !(norm2 > safeLow && norm2 < safeHigh) {
		s.scaledTwist(t, q)
		return
	}
	// The component of q B* along c, and its real part. Written out, B's part
	// in the first is the turn of c half the way back.
	p := float64(q.Imag*s.Half.X) + float64(q.Jmag*s.Half.Y) + float64(q.Kmag*s.Half.Z)
	w := float64(q.Real*s.Cos) + (float64(q.Imag*s.Sin.X) + float64(q.Jmag*s.Sin.Y) + float64(q.Kmag*s.Sin.Z))
	// -q is the same rotation: w is made positive, without a branch that
	// random poses would mispredict.
	sign := math.Copysign(1, w)
	w *= sign
	p *= sign
	if w == 0 { // the half turn has one name: +pi
		p = math.Abs(p)
	}
	n := math.Sqrt(float64(w*w) + float64(p*p))
	condition := n / math.Sqrt(norm2)
	if condition > 1 { // by rounding alone
		condition = 1
	}
	if condition < twist.MinCondition {
		t.set(0, 0, 1, condition, false)
		return
	}
	half := atan2(p, w, n)
	if math.Abs(half) > math.Pi/2 { // by rounding alone
		half = math.Copysign(math.Pi/2, half)
	}
	inverse := 1 / n
	sin, cos := float64(p*inverse), float64(w*inverse)
	if s.field == nil {
		t.set(half, sin, cos, condition, true)
		return
	}
	q.Real, q.Imag, q.Jmag, q.Kmag = sign*q.Real, sign*q.Imag, sign*q.Jmag, sign*q.Kmag
	s.correct(t, half, sin, cos, condition, s.correction(&q, p, w, n))
}

// correct takes half the correction, chi, off half the twist.
func (s *Swing) correct(t *Twist, half, sin, cos, condition, chi float64) {
	chi = wrapHalf(chi)
	sinChi, cosChi := sincos(chi)
	half -= chi
	sin, cos = float64(sin*cosChi)-float64(cos*sinChi), float64(cos*cosChi)+float64(sin*sinChi)
	switch {
	case half > math.Pi/2:
		half -= math.Pi
		sin, cos = -sin, -cos
	case half < -math.Pi/2:
		half += math.Pi
		sin, cos = -sin, -cos
	}
	t.set(half, sin, cos, condition, true)
}

// scaledTwist is Twist for lengths whose square leaves the safe range.
func (s *Swing) scaledTwist(t *Twist, q quat.Number) {
	largest := max(math.Abs(q.Real), math.Abs(q.Imag), math.Abs(q.Jmag), math.Abs(q.Kmag))
	switch {
	case largest == 0:
		t.set(0, 0, 1, 0, false)
		return
	case math.IsNaN(largest) || math.IsInf(largest, 1):
		nan := math.NaN()
		t.set(nan, nan, nan, nan, false)
		return
	}
	// Dividing each component by a power of two is exact; Frexp serves
	// subnormals too, where 1/largest would overflow.
	_, exponent := math.Frexp(largest)
	s.Twist(t, quat.Number{
		Real: math.Ldexp(q.Real, -exponent),
		Imag: math.Ldexp(q.Imag, -exponent),
		Jmag: math.Ldexp(q.Jmag, -exponent),
		Kmag: math.Ldexp(q.Kmag, -exponent),
	})
}
