package twist

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// MaxAngleError bounds the error of [Angle], in radians, as MaxAngleError /
// condition, where condition is the cosine of half the swing.
//
// With u = 2^-53 and unit q, p = v·a is off by at most 3u|v| (three products,
// two sums) and by 4.5u|p| (the length of the axis). Half the angle takes that
// times w/n², and |p|w/n² is at most 1/2: the angle is off by 6u/n + 4.5u. To
// this math.Atan2 adds at most 1.37 units in the last place of half an angle
// up to pi/2 (measured, Go 1.26 on amd64, 40,000 samples), 5.5u. Together
// less than 16u/n = 8 eps/n; the conditioning 2/n is Dobrowolski's, 2015.
const MaxAngleError = 8 * 0x1p-52

// MinCondition is the condition below which a twist counts as undefined. There
// the bound [MaxAngleError]/condition exceeds a radian, so the number says
// nothing about the rotation it was measured on.
const MinCondition = 8 * 0x1p-52

// Angle returns the signed angle of q's twist about axis, 2 atan2(p, w) in
// radians in (-pi, pi], right-handed about axis, and whether it is defined.
// Both orders of the split have this same twist.
//
// q is a rotation and axis a direction, each of any finite non-zero length.
// Where the swing is half a turn (condition below [MinCondition]), or q or
// axis is zero, the result is 0, false. NaN or Inf gives NaN, false. q and -q
// give the same bits. The error is at most [MaxAngleError]/condition.
func Angle(q quat.Number, axis r3.Vec) (float64, bool) {
	qq, aa := quatNorm2(q), vecNorm2(axis)
	if !safe(qq) || !safe(aa) {
		return angleScaled(q, axis)
	}
	w := q.Real
	p := (float64(q.Imag*axis.X) + float64(q.Jmag*axis.Y) + float64(q.Kmag*axis.Z)) * inverseRoot(aa)
	if float64(w*w)+float64(p*p) < MinCondition*MinCondition*qq {
		return 0, false
	}
	return angleOf(w, p), true
}

// angleOf returns 2 atan2(p, w) in (-pi, pi], the same for (w, p) and (-w, -p).
func angleOf(w, p float64) float64 {
	if w < 0 {
		w, p = -w, -p
	}
	p += 0 // -0, which a sum of zeros may be for q or -q alone, becomes 0
	// To the right of the origin Atan2 is this same quotient and Atan, bit for
	// bit, after tests that cannot come true here; at w = 0 the quotient is Inf.
	angle := 2 * math.Atan(p/w)
	if angle == -math.Pi { // the half turn has one name
		angle = math.Pi
	}
	return angle
}

// angleScaled is Angle for lengths whose squares leave the safe range.
func angleScaled(q quat.Number, axis r3.Vec) (float64, bool) {
	q, axis, k := scaleBoth(q, axis)
	switch k {
	case zero:
		return 0, false
	case improper:
		return math.NaN(), false
	}
	return Angle(q, axis)
}
