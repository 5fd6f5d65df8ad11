package kernel

import (
	"math"

	"github.com/pronate/pronate/internal/bicubic"
	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
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
//
// The assembly reads the first fields by their order.
type Swing[F Real] struct {
	half             [3]F // unit direction half-way from a to c
	cos              F    // cosine of half the angle between a and c
	sin              [3]F // its sine, times the unit normal of the turn from a to c
	low, high, least F    // limits of squared norms, see real.go

	x, y  [4]F             // read the components x and y of q B* off (w, x, y, z)
	rest  F                // half the correction at the identity
	table bicubic.Table[F] // of the correction; no coefficients where there is none
}

// NewSwing prepares a field.
func NewSwing[F Real](field *swing.Field) Swing[F] {
	arc, axis := field.Arc(), field.Axis()
	sin := r3.Vec{X: arc.Imag, Y: arc.Jmag, Z: arc.Kmag}
	s := Swing[F]{
		half: of[F](r3.Add(steady.Scale(arc.Real, axis), steady.Cross(sin, axis))),
		cos:  F(arc.Real),
		sin:  of[F](sin),
		low:  limit[F](low32, low64), high: limit[F](high32, high64), least: limit[F](least32, least64),
	}
	if field.IsCorrected() {
		x, y := field.Frame()
		s.x, s.y = across[F](arc, x), across[F](arc, y)
		table := bicubic.OfField(field)
		s.table = bicubic.Table[F]{
			X: F(table.X), Y: F(table.Y), PerStep: F(table.PerStep), NX: table.NX, NY: table.NY, Coef: table.Coef,
		}
		// Found as it is for other rotations, so that theirs is exactly 0 there.
		p, r, sign, n2, _ := s.parts(1, 0, 0, 0)
		inverse := 1 / sqrt(n2)
		s.rest = s.lookUp(1, 0, 0, 0, F(p*inverse), F(r*inverse), F(sign*inverse))
	}
	return s
}

// across reads the component along e of (w, v) B*, whose vector part is
// beta v - w b - v x b.
func across[F Real](arc quat.Number, e r3.Vec) [4]F {
	b := r3.Vec{X: arc.Imag, Y: arc.Jmag, Z: arc.Kmag}
	v := r3.Sub(steady.Scale(arc.Real, e), steady.Cross(b, e))
	return [4]F{F(-steady.Dot(b, e)), F(v.X), F(v.Y), F(v.Z)}
}

func of[F Real](v r3.Vec) [3]F { return [3]F{F(v.X), F(v.Y), F(v.Z)} }

// limit picks the one of F's precision.
func limit[F Real](single float32, double float64) F {
	if isSingle[F]() {
		return F(single)
	}
	return F(double)
}

func (s *Swing[F]) isCorrected() bool { return s.table.Coef != nil }

// parts are the two products that a twist is made of: the real part w of q B*
// and its component p along c, for that of q and -q which has w >= 0, and the
// sign that it takes. norm2 is q's squared length, n2 = w^2 + p^2.
//
// Written out, B's part in p is the turn of c half the way back.
func (s *Swing[F]) parts(w, x, y, z F) (p, r, sign, n2, norm2 F) {
	norm2 = F(w*w) + F(x*x) + F(y*y) + F(z*z)
	p = F(x*s.half[0]) + F(y*s.half[1]) + F(z*s.half[2])
	r = F(w*s.cos) + (F(x*s.sin[0]) + F(y*s.sin[1]) + F(z*s.sin[2]))
	// Without a branch that random rotations would mispredict.
	sign = F(math.Copysign(1, float64(r)))
	r *= sign
	p *= sign
	if r == 0 { // the half turn has one name: +pi
		p = F(math.Abs(float64(p)))
	}
	return p, r, sign, F(r*r) + F(p*p), norm2
}

// isEven reports whether a rotation can be solved as it is: its length is in the
// safe range and its twist is defined. NaN is not.
func (s *Swing[F]) isEven(n2, norm2 F) bool {
	return norm2 > s.low && norm2 < s.high && n2 >= F(s.least*norm2)
}

// Twist is what a swing leaves of a rotation: a turn about the axis.
type Twist[F Real] struct {
	Half      F    // half its angle, radians in [-pi/2, pi/2]
	Sin, Cos  F    // of Half
	Condition F    // cosine of half the swing away from the centre, in [0, 1]
	Defined   bool // false for a half-turn swing and for a zero rotation; then it is no turn
}

// set stores a twist number by number: assigned as a whole it would be copied
// in wider pieces than it was written in, which stalls the processor.
func (t *Twist[F]) set(half, sin, cos, condition F, defined bool) {
	t.Half, t.Sin, t.Cos, t.Condition, t.Defined = half, sin, cos, condition, defined
}

// Twist stores in t the twist that the swing leaves of a rotation, which may have
// any finite non-zero length. It is undefined where the condition is below
// twist.MinCondition, or its like in float32; NaN or Inf gives NaN. The identity
// gives exactly 0.
func (s *Swing[F]) Twist(t *Twist[F], w, x, y, z F) {
	p, r, sign, n2, norm2 := s.parts(w, x, y, z)
	if !(norm2 > s.low && norm2 < s.high) {
		s.scaledTwist(t, w, x, y, z)
		return
	}
	n := sqrt(n2)
	condition := n / sqrt(norm2)
	if condition > 1 { // by rounding alone
		condition = 1
	}
	if n2 < F(s.least*norm2) {
		t.set(0, 0, 1, condition, false)
		return
	}
	half := [1]F{quarter(p, r, n)}
	atan(half[:])
	inverse := 1 / n
	t.set(half[0], F(p*inverse), F(r*inverse), condition, true)
	if s.isCorrected() {
		chi := [1]F{s.correction(w, x, y, z, t.Sin, t.Cos, F(sign*inverse))}
		var sin, cos [1]F
		sincos(sin[:], cos[:], chi[:])
		t.Half, t.Sin, t.Cos = undo(t.Half, t.Sin, t.Cos, chi[0], sin[0], cos[0])
	}
}

// correction is half of chi where a rotation points, in [-pi/2, pi/2]; chi is within
// three half turns. sin and cos are of half the twist, and back is sign/n.
func (s *Swing[F]) correction(w, x, y, z, sin, cos, back F) F {
	return wrapHalf(s.lookUp(w, x, y, z, sin, cos, back) - s.rest)
}

// lookUp is half of what the table has where a rotation points.
func (s *Swing[F]) lookUp(w, x, y, z, sin, cos, back F) F {
	a := F(w*s.x[0]) + (F(x*s.x[1]) + F(y*s.x[2]) + F(z*s.x[3]))
	b := F(w*s.y[0]) + (F(x*s.y[1]) + F(y*s.y[2]) + F(z*s.y[3]))
	u := F((F(a*sin) + F(b*cos)) * back)
	v := F((F(b*sin) - F(a*cos)) * back)
	return F(0.5 * s.table.At(u, v))
}

// undo takes the turn by chi off a half twist.
func undo[F Real](half, sin, cos, chi, sinChi, cosChi F) (h, s, c F) {
	half -= chi
	sin, cos = F(sin*cosChi)-F(cos*sinChi), F(cos*cosChi)+F(sin*sinChi)
	switch {
	case half > math.Pi/2:
		half, sin, cos = half-math.Pi, -sin, -cos
	case half < -math.Pi/2:
		half, sin, cos = half+math.Pi, -sin, -cos
	}
	if cos < 0 { // next to pi/2, by rounding alone
		cos = 0
	}
	return half, sin, cos
}

// scaledTwist is Twist for lengths whose square leaves the safe range.
func (s *Swing[F]) scaledTwist(t *Twist[F], w, x, y, z F) {
	q := [4]float64{float64(w), float64(x), float64(y), float64(z)}
	largest := max(math.Abs(q[0]), math.Abs(q[1]), math.Abs(q[2]), math.Abs(q[3]))
	switch {
	case largest == 0:
		t.set(0, 0, 1, 0, false)
		return
	case math.IsNaN(largest) || math.IsInf(largest, 1):
		t.set(nan[F](), nan[F](), nan[F](), nan[F](), false)
		return
	}
	// Dividing each component by a power of two is exact; Frexp serves
	// subnormals too, where 1/largest would overflow.
	_, exponent := math.Frexp(largest)
	for i := range q {
		q[i] = math.Ldexp(q[i], -exponent)
	}
	s.Twist(t, F(q[0]), F(q[1]), F(q[2]), F(q[3]))
}
