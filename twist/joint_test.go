package twist_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// The tests of this file tie the twist to the joint coordinate systems of
// biomechanics. Axes: X forward, Y up along the bone, Z to the right, as the
// International Society of Biomechanics recommends: Wu et al. 2002, J Biomech
// 35:543-548, and 2005, J Biomech 38:981-992 (axes from memory).

// floating measures the three angles of Grood and Suntay 1983, "A joint
// coordinate system for the clinical description of three-dimensional
// motions", J Biomech Eng 105:136-144: flexion about an axis fixed in the
// proximal bone, axial rotation about one fixed in the distal bone, and the
// third about the floating common perpendicular.
func floating(q quat.Number) (flexion, adduction, axial float64) {
	e1, e3 := axisZ, rotate(q, axisY)
	e2 := r3.Unit(r3.Cross(e3, e1))
	xd, zd := rotate(q, axisX), rotate(q, axisZ)
	flexion = math.Atan2(r3.Dot(e2, axisY), r3.Dot(e2, axisX))
	s := r3.Dot(e3, e1)
	adduction = math.Atan2(s, r3.Norm(r3.Cross(e3, e1))) // asin, without its loss near 90 degrees
	axial = math.Atan2(r3.Dot(e2, zd), r3.Dot(e2, xd))
	return flexion, adduction, axial
}

// TestFloatingAxis: the joint coordinate system is the intrinsic sequence
// Z, X, Y (Grood and Suntay 1983).
func TestFloatingAxis(t *testing.T) {
	for _, c := range [][3]float64{{40, -5, 10}, {90, 10, 20}, {-30, 45, -80}, {120, -60, 5}, {0, 0, 0}} {
		q := euler("ZXY", [3]float64{c[0] * degree, c[1] * degree, c[2] * degree})
		flexion, adduction, axial := floating(q)
		require.InDelta(t, c[0]*degree, flexion, angleTolerance)
		require.InDelta(t, c[1]*degree, adduction, angleTolerance)
		require.InDelta(t, c[2]*degree, axial, angleTolerance)
	}
	q := euler("ZXY", [3]float64{40 * degree, -5 * degree, 10 * degree})
	requireRotation(t, number(0.936526082063, -0.070613489654, 0.066959719113, 0.336821954020), q, printedTolerance)
}

// TestAxialAngleIsNotTwist: the third angle of Z, X, Y is not the twist about
// the long axis, which also counts the twist that the first two induce between
// them (derived).
func TestAxialAngleIsNotTwist(t *testing.T) {
	for _, c := range []struct {
		angles [3]float64
		want   float64
	}{
		{[3]float64{40, -5, 10}, 8.179146300038},
		{[3]float64{90, 10, 20}, 30},
	} {
		alpha, beta, gamma := c.angles[0]*degree, c.angles[1]*degree, c.angles[2]*degree
		got := mustAngle(t, euler("ZXY", [3]float64{alpha, beta, gamma}), axisY)
		require.InDelta(t, c.want*degree, got, angleTolerance)
		require.InDelta(t, gamma+2*math.Atan(math.Tan(alpha/2)*math.Tan(beta/2)), got, angleTolerance)
	}
}

// TestShoulderSequence: plane of elevation, elevation and axial rotation, the
// Y, X, Y of Wu et al. 2005. The twist is the sum of the outer two and the
// swing is the elevation.
func TestShoulderSequence(t *testing.T) {
	q := euler("YXY", [3]float64{30 * degree, -80 * degree, -45 * degree})
	requireRotation(t, number(0.759490826714, -0.509957697243, -0.099988864232, 0.391304303822), q, printedTolerance)
	require.InDelta(t, -15*degree, mustAngle(t, q, axisY), angleTolerance)
	require.InDelta(t, 80*degree, angleOf(mustSplit(t, q, axisY).Swing), angleTolerance)
}

// TestElbowAndWristSequence: with no deviation from the hinge the Z, X, Y of
// elbow and wrist has pronation for its twist (Wu et al. 2005).
func TestElbowAndWristSequence(t *testing.T) {
	for _, pronation := range []float64{-80, 0, 35, 160} {
		q := euler("ZXY", [3]float64{70 * degree, 0, pronation * degree})
		require.InDelta(t, pronation*degree, mustAngle(t, q, axisY), angleTolerance)
	}
}

// TestCodmanThreeQuarterTurns: lifting, sweeping and lowering an arm by a
// quarter turn each leaves a quarter turn about the arm: Politti, Goroso,
// Valentinuzzi and Bravo 1998, "Codman's paradox of the arm rotations is not a
// paradox", Med Eng Phys 20:257-260.
func TestCodmanThreeQuarterTurns(t *testing.T) {
	// The arm hangs along -y: abduct about x, sweep about y, lower about the
	// axis that the sweep has turned. All axes are fixed in the world.
	const quarter = 90 * degree
	arm := r3.Vec{Y: -1}
	lift := twist.About(axisX, quarter)
	sweep := twist.About(axisY, quarter)
	lower := twist.About(rotate(sweep, axisX), -quarter)
	net := product(lower, sweep, lift)
	requireRotation(t, sweep, net, componentTolerance, "the middle rotation is what stays")
	requireVec(t, arm, rotate(net, arm), componentTolerance)
	require.InDelta(t, -quarter, mustAngle(t, net, arm), angleTolerance)

	for _, theta := range []float64{10, 45, 90, 135, 179} {
		for _, phi := range []float64{-150, -30, 20, 100} {
			sweep := twist.About(axisY, phi*degree)
			net := product(twist.About(rotate(sweep, axisX), -theta*degree), sweep, twist.About(axisX, theta*degree))
			require.InDelta(t, phi*degree, mustAngle(t, net, axisY), angleTolerance, "lift %v, sweep %v", theta, phi)
			require.InDelta(t, 1, mustSplit(t, net, axisY).Condition, componentTolerance)
		}
	}
}

// TestCodmanPalm: raised in front to the vertical and lowered at the side, the
// palm faces the other way. Lee et al. 2014, BMC Musculoskelet Disord 15:175.
func TestCodmanPalm(t *testing.T) {
	net := quat.Mul(twist.About(axisY, -180*degree), twist.About(axisX, 180*degree))
	requireRotation(t, number(0, 0, 0, 1), net, componentTolerance)
	require.InDelta(t, math.Pi, mustAngle(t, net, axisZ), angleTolerance)
}

// TestInducedRotation: 30 degrees of flexion and 20 of abduction induce an
// external rotation, which takes from 40 degrees of internal rotation. That
// they do is from Lee et al. 2014, BMC Musculoskelet Disord 15:175; the amount
// is derived and their definition may differ.
func TestInducedRotation(t *testing.T) {
	arm := axisY
	flexed := quat.Mul(twist.About(axisZ, 30*degree), twist.About(axisX, -20*degree))
	induced := mustAngle(t, flexed, arm)
	require.InDelta(t, -5.410046684432*degree, induced, angleTolerance)
	turned := quat.Mul(flexed, twist.About(arm, 40*degree))
	require.InDelta(t, 34.589953315568*degree, mustAngle(t, turned, arm), angleTolerance)
}
