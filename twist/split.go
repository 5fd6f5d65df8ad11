package twist

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Parts is a rotation taken apart about an axis, as unit quaternions.
type Parts struct {
	// Swing turns the axis the shortest way to where the rotation takes it.
	// Its real part is Condition, so never negative.
	Swing quat.Number

	// Twist turns about the axis. Its real part is not negative, and where
	// that is 0 its component along the axis is positive, so its angle lies
	// in (-pi, pi].
	Twist quat.Number

	// Condition is the cosine of half the swing, 0 to 1: 1 for a pure twist,
	// 0 for a swing of half a turn, where the twist is undefined.
	Condition float64
}

// MaxProductError bounds the error of the product of the two parts, in each
// component against the unit quaternion q or -q, whatever the condition:
// an error of the twist is undone by the swing that was made with it.
//
// In units of 2^-53: 4.5 for the length of the twist and as much for that of
// q, 3 for p, 4 for the sums and products of the swing, 4 for the product of
// the parts when a caller takes it: 20, that is 10 eps.
const MaxProductError = 10 * 0x1p-52

// MaxPartError bounds the error of either part, in each component, as
// MaxPartError / condition: half of [MaxAngleError] turns into a component of
// the twist one for one, and the rest is as for [MaxProductError].
const MaxPartError = 0.5*MaxAngleError + MaxProductError

// Split takes q apart as Swing*Twist up to sign: the twist about axis comes
// first, then the shortest swing that carries axis to where q takes it. This
// is the order in which a limb is ramped: the twist is spread along the bone,
// the swing is left to its root.
//
// q is a rotation and axis a direction in the frame q acts on, each of any
// finite non-zero length. The second result says whether the twist is
// defined. Where it is not, because Condition is below [MinCondition] (a swing
// of half a turn) or axis is zero, Twist is the identity and Swing is q,
// normalised and with the sign that makes its first non-zero component
// positive. A zero q gives identities and Condition 0, a zero axis Condition 0.
// NaN or Inf gives NaN throughout and false. q and -q give the same bits.
// The errors are at most [MaxPartError]/Condition and, of the product,
// [MaxProductError].
//
// Source: Dobrowolski 2015, arXiv:1506.05481.
func Split(q quat.Number, axis r3.Vec) (Parts, bool) {
	return split(q, axis, 1)
}

// SplitSwingFirst takes q apart as Twist*Swing up to sign: the swing comes
// first, then the twist about axis. The twist is the one of [Split]; the swing
// is Split's turned back by the twist. Everything else is as for Split.
func SplitSwingFirst(q quat.Number, axis r3.Vec) (Parts, bool) {
	return split(q, axis, -1)
}

// split serves both orders. With r = v - p a, the part of v across the axis,
//
//	q t* = (n² + w r + p a×r)/n  (order 1)
//	t* q = (n² + w r - p a×r)/n  (order -1)
//
// for unit q, so neither order needs a full product.
func split(q quat.Number, axis r3.Vec, order float64) (Parts, bool) {
	qq, aa := quatNorm2(q), vecNorm2(axis)
	if !safe(qq) || !safe(aa) {
		return splitScaled(q, axis, order)
	}
	f := inverseRoot(aa)
	ax, ay, az := axis.X*f, axis.Y*f, axis.Z*f
	w, x, y, z := q.Real, q.Imag, q.Jmag, q.Kmag
	if w < 0 { // before p is summed: a sum of zero has the same sign either way
		w, x, y, z = -w, -x, -y, -z
	}
	p := float64(x*ax) + float64(y*ay) + float64(z*az)
	g := inverseRoot(qq)
	nn := float64(w*w) + float64(p*p)
	n := math.Sqrt(nn)
	condition := min(n*g, 1)
	if condition < MinCondition {
		return Parts{Swing: canonical(quat.Scale(g, q)), Twist: identity, Condition: condition}, false
	}
	if w == 0 && p < 0 {
		w, x, y, z, p = -w, -x, -y, -z, -p
	}
	rx, ry, rz := x-float64(p*ax), y-float64(p*ay), z-float64(p*az)
	h := 1 / n
	w, p = w*h, p*h
	wg, pg := w*g, order*p*g
	return Parts{
		Swing: quat.Number{
			Real: condition,
			Imag: float64(wg*rx) + float64(pg*(float64(ay*rz)-float64(az*ry))),
			Jmag: float64(wg*ry) + float64(pg*(float64(az*rx)-float64(ax*rz))),
			Kmag: float64(wg*rz) + float64(pg*(float64(ax*ry)-float64(ay*rx))),
		},
		Twist:     quat.Number{Real: w, Imag: p * ax, Jmag: p * ay, Kmag: p * az},
		Condition: condition,
	}, true
}

// splitScaled is split for lengths whose squares leave the safe range.
func splitScaled(q quat.Number, axis r3.Vec, order float64) (Parts, bool) {
	q, k := scaleQuat(q)
	axis, l := scaleVec(axis)
	switch {
	case k == improper || l == improper:
		return Parts{Swing: quat.NaN(), Twist: quat.NaN(), Condition: math.NaN()}, false
	case k == zero:
		return Parts{Swing: identity, Twist: identity}, false
	case l == zero:
		return Parts{Swing: canonical(quat.Scale(inverseRoot(quatNorm2(q)), q)), Twist: identity}, false
	}
	return split(q, axis, order)
}

// canonical picks of q and -q the one whose first non-zero component is
// positive.
func canonical(q quat.Number) quat.Number {
	for _, c := range [...]float64{q.Real, q.Imag, q.Jmag, q.Kmag} {
		if c != 0 {
			if c < 0 {
				return quat.Scale(-1, q)
			}
			break
		}
	}
	return q
}
