package rest

import (
	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Offset is the follower's placement in its driver's frame, driver⁻¹·follower,
// to be taken once, at rest, with both in the same frame of reference.
//
// The positions are subtracted before they are turned, so two joints far from
// the origin lose nothing beyond the rounding of their own coordinates.
func Offset(driver, follower Frame) Frame {
	q := quat.Conj(driver.Unit())
	return Frame{
		Position: steady.Rotate(q, r3.Sub(follower.Position, driver.Position)),
		Rotation: steady.Product(q, follower.Unit()),
	}
}

// Follow is where a follower hung on the driver through offset is now:
// driver·offset. At rest it is where it was: Follow(driver, Offset(driver,
// follower)) is follower, in the same quaternion sign, to [MaxFollowError] per
// quaternion component and MaxFollowError times the distance between the two
// joints plus an eps of the coordinates in position.
func Follow(driver, offset Frame) Frame { return driver.Mul(offset) }

// MaxFollowError bounds the rounding of an offset followed at rest: two
// normalisations and two products of unit quaternions, each component a sum of
// four products (4 half-eps each), twice the same for the turned position.
const MaxFollowError = 16 * 0x1p-52
