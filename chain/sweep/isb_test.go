package sweep_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain/sweep"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// published is how many digits the published angles and components have.
const published = 1e-12

// Grood and Suntay 1983, in ISB axes: 40, -5, 10 degrees. The twist of the same
// rotation about Y is not gamma but gamma + 2 atan(tan(alpha/2) tan(beta/2)),
// 8.179146300038 degrees; at 90, 10, 20 degrees it is 30.
func TestGroodSuntay(t *testing.T) {
	q := sweep.FromGroodSuntay(40*degree, -5*degree, 10*degree)
	requireRotation(t, quat.Number{Real: 0.936526082063, Imag: -0.070613489654, Jmag: 0.066959719113, Kmag: 0.336821954020}, q, published)
	alpha, beta, gamma, determined := sweep.GroodSuntay(q)
	require.True(t, determined)
	require.InDelta(t, 40*degree, alpha, component)
	require.InDelta(t, -5*degree, beta, component)
	require.InDelta(t, 10*degree, gamma, component)

	angle, _ := twist.Angle(q, r3.Vec{Y: 1})
	require.InDelta(t, 8.179146300038*degree, angle, published)
	angle, _ = twist.Angle(sweep.FromGroodSuntay(90*degree, 10*degree, 20*degree), r3.Vec{Y: 1})
	require.InDelta(t, 30*degree, angle, component)
}

// The ISB's shoulder angles (Wu et al. 2005): plane 30, elevation -80, axial -45
// degrees; twist -15 and swing 80 degrees.
func TestPlaneElevation(t *testing.T) {
	q := sweep.FromPlaneElevation(30*degree, -80*degree, -45*degree)
	requireRotation(t, quat.Number{Real: 0.759490826714, Imag: -0.509957697243, Jmag: -0.099988864232, Kmag: 0.391304303822}, q, published)
	plane, elevation, axial, determined := sweep.PlaneElevation(q)
	require.True(t, determined)
	require.InDelta(t, 30*degree, plane, component)
	require.InDelta(t, -80*degree, elevation, component)
	require.InDelta(t, -45*degree, axial, component)

	parts, _ := twist.Split(q, r3.Vec{Y: 1})
	angle, _ := twist.Angle(q, r3.Vec{Y: 1})
	require.InDelta(t, -15*degree, angle, component)
	swung := r3.Norm(r3.Vec{X: parts.Swing.Imag, Y: parts.Swing.Jmag, Z: parts.Swing.Kmag})
	require.InDelta(t, 80*degree, 2*math.Atan2(swung, parts.Condition), component)
}

// In words: plane 0 lifts a right arm outwards, a quarter turn lifts it to the
// front, and a positive axial rotation is internal.
func TestPlaneElevationByWords(t *testing.T) {
	arm := r3.Vec{Y: -1}
	requireDirection(t, r3.Vec{Z: 1}, rotate(sweep.FromPlaneElevation(0, -math.Pi/2, 0), arm), component)
	requireDirection(t, r3.Vec{X: 1}, rotate(sweep.FromPlaneElevation(math.Pi/2, -math.Pi/2, 0), arm), component)
	requireDirection(t, r3.Vec{Z: -1}, rotate(sweep.FromPlaneElevation(0, 0, math.Pi/2), r3.Vec{X: 1}), component)
}

// Lee et al. 2014: 30 degrees of flexion and 20 of abduction carry external
// rotation with them. 2 atan(tan 15 tan 10) = 5.410046684432 degrees, which
// leave 34.589953315568 of 40 internal (derived; their definition may differ).
func TestInducedRotation(t *testing.T) {
	right := sweep.Shoulder(r3.Vec{Y: -1}, r3.Vec{X: 1}, r3.Vec{Z: 1})
	pose := right.ToISB(right.Pose(30*degree, 20*degree, 40*degree))
	angle, _ := twist.Angle(pose, r3.Vec{Y: 1})
	require.InDelta(t, 34.589953315568*degree, angle, published)
}

// Round trips from any rotation, of any length. The outer angles are worse by
// the cosine of beta, or the sine of the elevation, than the rotation's own
// rounding.
func propertyAngles(t *rapid.T) {
	q := draw.Rotation().Draw(t, "q")
	unit := sweepUnit(q)
	alpha, beta, gamma, determined := sweep.GroodSuntay(q)
	require.LessOrEqual(t, math.Abs(beta), math.Pi/2)
	requireRotation(t, unit, sweep.FromGroodSuntay(alpha, beta, gamma), roundTrip)
	if !determined {
		require.Zero(t, gamma)
	}
	plane, elevation, axial, determined := sweep.PlaneElevation(q)
	require.True(t, elevation <= 0 && elevation >= -math.Pi)
	requireRotation(t, unit, sweep.FromPlaneElevation(plane, elevation, axial), roundTrip)
	if !determined {
		require.Zero(t, axial)
	}
}

// roundTrip is for a rotation rebuilt from its angles: at gimbal lock an outer
// angle is dropped that weighs less than twist.MinCondition.
const roundTrip = 4 * component

func sweepUnit(q quat.Number) quat.Number {
	parts, _ := twist.Split(q, r3.Vec{Y: 1}) // normalises whatever the length
	return quat.Mul(parts.Swing, parts.Twist)
}

func TestAngles(t *testing.T) { rapid.Check(t, propertyAngles) }
func FuzzAngles(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyAngles)) }

// From angles and back, with the documented errors.
func propertyAnglesBack(t *rapid.T) {
	const eps = 0x1p-52
	first, last := drawAngle(t, "first", math.Pi), drawAngle(t, "last", math.Pi)
	middle := drawAngle(t, "middle", math.Pi/2)
	alpha, beta, gamma, determined := sweep.GroodSuntay(sweep.FromGroodSuntay(first, middle, last))
	require.InDelta(t, middle, beta, 8*eps)
	if determined {
		requireAngle(t, first, alpha, 16*eps/math.Cos(middle))
		requireAngle(t, last, gamma, 16*eps/math.Cos(middle))
	}
	down := -math.Abs(2 * middle)
	plane, elevation, axial, determined := sweep.PlaneElevation(sweep.FromPlaneElevation(first, down, last))
	require.InDelta(t, down, elevation, 8*eps)
	if determined {
		requireAngle(t, first, plane, 16*eps/math.Abs(math.Sin(down)))
		requireAngle(t, last, axial, 16*eps/math.Abs(math.Sin(down)))
	}
}

func TestAnglesBack(t *testing.T) { rapid.Check(t, propertyAnglesBack) }
func FuzzAnglesBack(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyAnglesBack)) }

func TestAnglesOfNothing(t *testing.T) {
	for _, read := range []func(quat.Number) (a, b, c float64, ok bool){sweep.GroodSuntay, sweep.PlaneElevation} {
		a, b, c, determined := read(quat.Number{})
		require.True(t, !determined && a == 0 && b == 0 && c == 0)
		for _, bad := range []float64{math.NaN(), math.Inf(1)} {
			a, b, c, determined = read(quat.Number{Real: 1, Jmag: bad})
			require.True(t, !determined && math.IsNaN(a) && math.IsNaN(b) && math.IsNaN(c))
		}
	}
	// Gimbal lock: the identity of the one, beta = a quarter turn of the other.
	_, elevation, _, determined := sweep.PlaneElevation(quat.Number{Real: 1})
	require.True(t, !determined && elevation == 0)
	alpha, beta, gamma, determined := sweep.GroodSuntay(sweep.FromGroodSuntay(0.3, math.Pi/2, 0.2))
	require.False(t, determined)
	require.InDelta(t, math.Pi/2, beta, component)
	require.InDelta(t, 0.5, alpha, component)
	require.Zero(t, gamma)
}
