package asset

import "math"

// The thigh of a four-legged animal is the bone that moves the haunch. Files
// often call the bone below the stifle the upper leg, as it is the first that
// stands free of the body, and give the femur above it another name. So the bone
// above the named upper leg is looked at; it is the femur if it is no mere link
// from the spine to the hip joint. Links are short, run straight sideways or move
// little skin. The same holds for front legs, whose humerus lies against the
// ribs.
//
// A joint whose name says shoulder or shoulder blade is never taken: the shoulder
// blade moves much skin, too, but it slides on the ribs and does not turn about
// its own length, so that a split would ramp no twist.
const (
	// link is the length, as a fraction of the next bone's, below which a bone
	// only leads to the limb. Femurs of horses and frogs are 0.65 to 0.8 of the
	// bone below, links 0.25 to 0.44 (measured on three characters).
	link = 0.5
	// leastHaunch is the least skin that a femur moves, as a fraction of what the
	// bone below moves: 0.67 to 0.89 on the same characters, 0.24 to 0.38 for
	// links.
	leastHaunch = 0.5
	// mostSideways and mostRising are parts of a bone's length. A link runs within
	// 30 degrees of straight sideways. A femur does not rise by more than 30
	// degrees: a joint on the ground that carries a leg does.
	mostSideways = 0.866 // cos 30 degrees
	mostRising   = 0.5   // sin 30 degrees
)

// haunch is the place in a leg or front leg of the bone that moves the haunch:
// upper, or the bone above it.
func (d *detector) haunch(c boneChain, first, upper int) int {
	above := upper - 1
	if above < first || upper+1 >= len(c.joints) {
		return upper
	}
	joint, next := c.joints[above], c.joints[upper]
	if d.side[joint] != c.side || d.branches[joint] > 1 || d.role[joint] == shoulder || d.role[joint] == clavicle {
		return upper
	}
	length := d.length(joint, next)
	along := d.place[next].Sub(d.place[joint])
	switch {
	case !d.joints[joint] || length < link*d.length(next, c.joints[upper+1]):
	case d.skin.moved[joint] < leastHaunch*d.skin.moved[next]:
	case math.Abs(along[0]) > mostSideways*length || along[1] > mostRising*length:
	default:
		return above
	}
	return upper
}
