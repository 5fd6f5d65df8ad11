package chain_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

const (
	hingeDegree = math.Pi / 180
	// hingeUnit is for directions that a cross product and a division or two made:
	// some 4 eps.
	hingeUnit = 4 * 0x1p-52
)

func requireDirection(t require.TestingT, want, got r3.Vec, tolerance float64, about ...any) {
	require.InDelta(t, 0, r3.Norm(r3.Sub(want, got)), tolerance, about...)
}

// A given axis keeps what is at right angles to the bone, at any length.
func TestNewHinge(t *testing.T) {
	h, err := chain.NewHinge(r3.Vec{Y: -1e-300}, r3.Vec{X: 3e200, Y: 1e200})
	require.NoError(t, err)
	requireDirection(t, r3.Vec{X: 1}, h.Axis(), hingeUnit)
	requireDirection(t, r3.Vec{Y: -1}, h.Bone(), hingeUnit)
}

func TestHingesRefuse(t *testing.T) {
	y, x, nan := r3.Vec{Y: 1}, r3.Vec{X: 1}, r3.Vec{X: math.NaN()}
	_, err := chain.NewHinge(r3.Vec{}, x)
	require.EqualError(t, err, "chain: hinge: bone is [0, 0, 0], expected a finite direction of non-zero length")
	_, err = chain.NewHinge(y, nan)
	require.EqualError(t, err, "chain: hinge: axis is [NaN, 0, 0], expected a finite direction of non-zero length")
	_, err = chain.NewHinge(y, r3.Vec{X: 1, Y: -2})
	require.EqualError(t, err, "chain: hinge: axis is 26.6 degrees from the bone, expected 45 or more")
	_, _, err = chain.HingeFromRest(r3.Vec{Z: math.Inf(1)}, y)
	require.EqualError(t, err, "chain: hinge: near bone is [0, 0, +Inf], expected a finite direction of non-zero length")
	_, _, err = chain.HingeFromRest(y, r3.Vec{})
	require.ErrorContains(t, err, "bone is [0, 0, 0]")
	_, err = chain.HingeTowards(y, nan)
	require.ErrorContains(t, err, "direction is [NaN, 0, 0]")
	_, err = chain.HingeTowards(nan, y)
	require.ErrorContains(t, err, "bone is [NaN, 0, 0]")
	_, err = chain.HingeTowards(y, r3.Vec{X: 0.1, Y: -1})
	require.EqualError(t, err, "chain: hinge: the direction to bend to is 5.7 degrees from the bone's line, expected 15 or more")
}

// Bones bent at rest by an angle give it and their plane's normal; flexion takes
// the joint on in the same way. Nearly straight or folded ones give the angle and
// an error.
func TestHingeFromRest(t *testing.T) {
	for _, bend := range []float64{0, 14, 16, 90, 164, 166, 180} {
		sin, cos := math.Sincos(bend * hingeDegree)
		// Down, and from there to the back (-Z): about +X.
		h, got, err := chain.HingeFromRest(r3.Vec{Y: -2}, r3.Vec{Y: -3 * cos, Z: -3 * sin})
		require.InDelta(t, bend*hingeDegree, got, 4*0x1p-52)
		if bend < 15 || bend > 165 {
			require.ErrorContains(t, err, "degrees at rest, expected 15 to 165", "%g", bend)
			continue
		}
		require.NoError(t, err)
		requireDirection(t, r3.Vec{X: 1}, h.Axis(), hingeUnit)
		further := h.Rotation(0.1, 0, 0)
		require.InDelta(t, bend*hingeDegree+0.1, math.Atan2(-hingeRotated(further, h.Bone()).Z, -hingeRotated(further, h.Bone()).Y), 1e-14)
	}
}

// A shin that hangs bends back about the left, a forearm forwards.
func TestHingeTowards(t *testing.T) {
	h, err := chain.HingeTowards(r3.Vec{Y: -1}, r3.Vec{Z: -1})
	require.NoError(t, err)
	requireDirection(t, r3.Vec{X: 1}, h.Axis(), hingeUnit)
	requireDirection(t, r3.Vec{Z: -1}, hingeRotated(h.Rotation(math.Pi/2, 0, 0), h.Bone()), hingeUnit)
}

// Whatever the directions: unit, at right angles, or refused.
func propertyHinge(t *rapid.T) {
	bone, axis := draw.Direction().Draw(t, "bone"), draw.Direction().Draw(t, "axis")
	h, err := chain.NewHinge(bone, axis)
	if err != nil {
		require.ErrorContains(t, err, "from the bone, expected 45 or more")
		return
	}
	require.InDelta(t, 1, r3.Norm(h.Axis()), hingeUnit)
	require.InDelta(t, 1, r3.Norm(h.Bone()), hingeUnit)
	require.InDelta(t, 0, r3.Dot(h.Axis(), h.Bone()), hingeUnit)
}

func TestHingeProperty(t *testing.T) { rapid.Check(t, propertyHinge) }
