package kernel

import (
	"math"

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
// centre c. It is stored as what the twist that it leaves takes.
type Swing struct {
	Half r3.Vec  // unit direction half-way from a to c
	Cos  float64 // cosine of half the angle between a and c
	Sin  r3.Vec  // its sine, times the unit normal of the turn from a to c
}

// NewSwing prepares the field of the unit axis whose rotation to the centre is
// arc. The identity gives the plain field.
func NewSwing(axis r3.Vec, arc quat.Number) Swing {
	sin := r3.Vec{X: arc.Imag, Y: arc.Jmag, Z: arc.Kmag}
	return Swing{
		Half: r3.Add(r3.Scale(arc.Real, axis), r3.Cross(sin, axis)),
		Cos:  arc.Real,
		Sin:  sin,
	}
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
	t.set(half, float64(p*inverse), float64(w*inverse), condition, true)
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
