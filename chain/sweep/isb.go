package sweep

import (
	"math"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// The International Society of Biomechanics' axes (from memory): X to the
// front, Y up, Z to the right. A left limb is measured in the mirror, Z
// reversed: beta and gamma, or plane and axial rotation, change their signs.
var (
	isbX = r3.Vec{X: 1}
	isbY = r3.Vec{Y: 1}
	isbZ = r3.Vec{Z: 1}
)

// isbHinge is Grood and Suntay's joint by the ISB's axes, which no hinge refuses.
var isbHinge, _ = chain.NewHinge(isbY, isbZ)

// FromGroodSuntay is the rotation with these joint angles by the ISB's axes,
//
//	R = R_z(alpha) R_x(beta) R_y(gamma),
//
// alpha about the axis fixed in the near bone, gamma about the far bone's long
// axis, beta about the floating axis between them. For a right hip they are
// flexion, adduction and internal rotation. The order is also the ISB's for hip,
// elbow and wrist.
//
// gamma is not the twist of a swing and twist split, which is gamma + 2
// atan(tan(alpha/2) tan(beta/2)).
//
// Sources: Grood and Suntay 1983, J Biomech Eng 105:136-144; Wu et al. 2002, J
// Biomech 35:543-548.
func FromGroodSuntay(alpha, beta, gamma float64) quat.Number {
	return isbHinge.Rotation(alpha, beta, gamma)
}

// GroodSuntay undoes [FromGroodSuntay]: alpha and gamma in [-pi, pi], beta within
// a quarter turn. It returns false where beta is a quarter turn, gimbal lock:
// only the sum or the difference of alpha and gamma is determined there, and
// gamma is taken to be zero. A zero rotation gives zeros and false, NaN or Inf
// NaN and false.
//
// [chain.Hinge.Measure] does the work. Error: 8 eps for beta, 16 eps over the
// cosine of beta for the others.
func GroodSuntay(q quat.Number) (alpha, beta, gamma float64, determined bool) {
	a := isbHinge.Measure(q)
	return a.Flexion, a.SideBend, a.Twist, a.Defined
}

// FromPlaneElevation is the rotation of a shoulder by the ISB's axes,
//
//	R = R_y(plane) R_x(elevation) R_y(axial):
//
// the plane of elevation (0 is abduction, a quarter turn forward flexion), the
// elevation, which as a rotation about X counts negative, and the axial
// rotation, internal positive.
//
// Source: Wu et al. 2005, J Biomech 38:981-992.
func FromPlaneElevation(plane, elevation, axial float64) quat.Number {
	return quat.Mul(twist.About(isbY, plane), quat.Mul(twist.About(isbX, elevation), twist.About(isbY, axial)))
}

// PlaneElevation undoes [FromPlaneElevation]: plane and axial in [-pi, pi],
// elevation in [-pi, 0], as the ISB counts it. It returns false where the
// elevation is 0 or half a turn, gimbal lock: only the sum or the difference of
// plane and axial is determined there, and axial is taken to be zero. A zero
// rotation gives zeros and false, NaN or Inf NaN and false.
//
// Half the sum P of plane and axial and half their difference M show in the
// components, E being half of the elevation:
//
//	(w, y)  = cos E (cos P, sin P)
//	(-x, z) = -sin E (cos M, sin M)
//
// Error: 8 eps for the elevation, 16 eps over its sine for the others.
func PlaneElevation(q quat.Number) (plane, elevation, axial float64, determined bool) {
	if q == (quat.Number{}) {
		return 0, 0, 0, false
	}
	q = rest.Frame{Rotation: q}.Unit()
	cos, sin := math.Hypot(q.Real, q.Jmag), math.Hypot(q.Imag, q.Kmag)
	sum, difference := math.Atan2(q.Jmag, q.Real), math.Atan2(q.Kmag, -q.Imag)
	elevation = -2 * math.Atan2(sin, cos)
	switch {
	case !(cos+sin > 0): // NaN
		return math.NaN(), elevation, math.NaN(), false
	case sin < twist.MinCondition:
		return math.Remainder(2*sum, 2*math.Pi), elevation, 0, false
	case cos < twist.MinCondition:
		return math.Remainder(2*difference, 2*math.Pi), elevation, 0, false
	}
	return math.Remainder(sum+difference, 2*math.Pi), elevation, math.Remainder(sum-difference, 2*math.Pi), true
}
