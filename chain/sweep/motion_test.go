package sweep_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain/sweep"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// AAOS mean values, in degrees; the hip's from memory.
func TestLimits(t *testing.T) {
	for i, want := range [][6]float64{
		{-30, 120, -30, 45, -45, 45}, // hip: extension, flexion, adduction, abduction, rotations
		{-60, 180, -30, 90, -90, 70}, // shoulder; its abduction ends where flexion takes over
		{-70, 80, -30, 20, 0, 0},     // wrist
	} {
		m := joints[i].of(down, forward, left)
		for k, got := range [6]float64{m.Flexion[0], m.Flexion[1], m.Abduction[0], m.Abduction[1], m.Rotation[0], m.Rotation[1]} {
			require.InDelta(t, want[k], got/degree, 1e-12, "%s %d", joints[i].name, k)
		}
	}
}

// What the words mean on a character that looks along +Z, on either side.
func TestPoseByWords(t *testing.T) {
	for _, out := range []r3.Vec{left, right} {
		m := sweep.Hip(down, forward, out)
		flexed, abducted := m.Pose(math.Pi/2, 0, 0), m.Pose(0, math.Pi/2, 0)
		requireDirection(t, forward, rotate(flexed, down), component, "flexion lifts to the front")
		requireDirection(t, out, rotate(flexed, out), component, "and turns about the side axis")
		requireDirection(t, out, rotate(abducted, down), component, "abduction lifts outwards")
		requireDirection(t, forward, rotate(abducted, forward), component, "and turns about the front axis")
		turned := m.Pose(0, 0, math.Pi/2)
		requireDirection(t, down, rotate(turned, down), component, "own rotation leaves the bone")
		requireDirection(t, r3.Scale(-1, out), rotate(turned, forward), component, "internal: the front turns inwards")
	}
}

// The direction of a pose is the range's, and its angles are Grood and Suntay's:
// alpha is flexion, beta adduction and gamma internal rotation at the right, and
// abduction and external rotation at the left.
func propertyPose(t *rapid.T) {
	down, forward, out := drawBody(t)
	m := sweep.Hip(down, forward, out)
	flexion, abduction, rotation := drawAngle(t, "flexion", math.Pi), drawAngle(t, "abduction", math.Pi/2), drawAngle(t, "rotation", math.Pi)
	pose := m.Pose(flexion, abduction, rotation)
	requireDirection(t, m.Direction(flexion, abduction), rotate(pose, down), component)
	requireRotation(t, pose, m.FromISB(m.ToISB(pose)), component)

	// The axes of the ISB, and the angles by their definition (Grood and
	// Suntay 1983): e1 is the near bone's Z, e3 the far bone's Y, e2 = e3 x e1.
	x, y := forward, r3.Scale(-1, down)
	z := r3.Cross(x, y)
	e3 := rotate(pose, y)
	e2 := r3.Cross(e3, z)
	side := 1.
	if r3.Dot(out, z) < 0 {
		side = -1
	}
	require.InDelta(t, -side*abduction, math.Atan2(r3.Dot(e3, z), r3.Norm(e2)), component)
	if cos := r3.Norm(e2); cos > 1e-3 {
		requireAngle(t, flexion, math.Atan2(r3.Dot(e2, y), r3.Dot(e2, x)), component/cos)
		requireAngle(t, side*rotation, math.Atan2(r3.Dot(e2, rotate(pose, z)), r3.Dot(e2, rotate(pose, x))), component/cos)

		gotF, gotB, gotR, determined := m.AnglesOf(pose)
		require.True(t, determined)
		requireAngle(t, flexion, gotF, component/cos)
		require.InDelta(t, abduction, gotB, component)
		requireAngle(t, rotation, gotR, component/cos)
		onRange, latitude := m.Angles(m.Direction(flexion, abduction))
		require.InDelta(t, onRange, gotF, component/cos)
		require.InDelta(t, latitude, gotB, component)
	}
}

func TestPose(t *testing.T) { rapid.Check(t, propertyPose) }
func FuzzPose(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyPose)) }

// An arm straight overhead at 180 degrees of flexion stays there: the range's
// middle decides between 180 and -180.
func TestAnglesOfOverhead(t *testing.T) {
	m := sweep.Shoulder(down, forward, left)
	for _, flexion := range []float64{-60, -10, 0, 90, 180, 180 - 1e-9, 200} {
		got, _, _, determined := m.AnglesOf(m.Pose(flexion*degree, 0.1, 0.2))
		require.True(t, determined)
		require.InDelta(t, flexion*degree, got, component)
	}
}

// At a quarter turn of abduction only one combination of flexion and rotation
// shows; what is read off is the same pose.
func TestAnglesOfGimbalLock(t *testing.T) {
	for _, out := range []r3.Vec{left, right} {
		m := sweep.Shoulder(down, forward, out)
		for _, abduction := range []float64{math.Pi / 2, -math.Pi / 2} {
			pose := m.Pose(0.7, abduction, 0.4)
			f, b, r, determined := m.AnglesOf(pose)
			require.False(t, determined)
			require.Zero(t, r)
			requireRotation(t, pose, m.Pose(f, b, r), component)
		}
	}
	_, _, _, determined := sweep.Hip(down, forward, left).AnglesOf(quat.Number{})
	require.False(t, determined)
}
