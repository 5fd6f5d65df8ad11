package rest

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// That a follower is hung on its driver through an offset taken at rest, so
// that misaligned axes do not move the rest pose, is common practice, no
// source.
func followKeepsRest(t *rapid.T) {
	driver, follower := genFrame().Draw(t, "driver"), genFrame().Draw(t, "follower")
	got := Follow(driver, Offset(driver, follower))
	requireQuat(t, follower.Unit(), got.Rotation, MaxFollowError, "rotation, in its own sign")
	distance := r3.Norm(r3.Sub(follower.Position, driver.Position))
	coordinates := r3.Norm(follower.Position) + r3.Norm(driver.Position)
	requireVec(t, follower.Position, got.Position, MaxFollowError*distance+eps*coordinates, "position")
}

func TestFollowKeepsRest(t *testing.T) { rapid.Check(t, followKeepsRest) }
func FuzzFollowKeepsRest(f *testing.F) { f.Fuzz(rapid.MakeFuzz(followKeepsRest)) }

// The two keep their relation whatever both are carried by.
func offsetIgnoresTheWorld(t *rapid.T) {
	driver, follower, world := genFrame().Draw(t, "driver"), genFrame().Draw(t, "follower"), genFrame().Draw(t, "world")
	want, got := Offset(driver, follower), Offset(world.Mul(driver), world.Mul(follower))
	requireVec(t, want.Position, got.Position, frameTolerance)
	require.Less(t, angleBetween(want.Unit(), got.Unit()), 64*eps)
}

func TestOffsetIgnoresTheWorld(t *testing.T) { rapid.Check(t, offsetIgnoresTheWorld) }
func FuzzOffsetIgnoresTheWorld(f *testing.F) { f.Fuzz(rapid.MakeFuzz(offsetIgnoresTheWorld)) }

// The plain driver would turn a misaligned follower at rest; the offset takes
// that up, and the driver's motion arrives about the driver's axis.
func TestFollowMisaligned(t *testing.T) {
	driver := Frame{Rotation: turn(r3.Vec{X: 1}, 0.3)}
	follower := Frame{Position: r3.Vec{Y: 1}, Rotation: turn(r3.Vec{Z: 1}, -1.2)}
	offset := Offset(driver, follower)
	move := Frame{Rotation: turn(r3.Vec{Z: 1}, math.Pi/2)}
	got := Follow(move.Mul(driver), offset)
	requireVec(t, r3.Vec{X: -1}, got.Position, 8*eps)
	requireQuat(t, turn(r3.Vec{Z: 1}, math.Pi/2-1.2), got.Rotation, 8*eps)
	require.Greater(t, angleBetween(driver.Unit(), follower.Unit()), 1.0, "the check means nothing for aligned joints")
}

func TestOffsetSpecial(t *testing.T) {
	require.Equal(t, Frame{Rotation: quat.Number{Real: 1}}, Offset(Frame{}, Frame{}))
	bad := Offset(Frame{Rotation: quat.Number{Real: math.Inf(1)}}, Frame{})
	require.True(t, math.IsNaN(bad.Rotation.Real))
	require.True(t, math.IsNaN(bad.Position.X))
}
