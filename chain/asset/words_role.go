package asset

// role is the place of a joint in a limb, as far as its name tells.
type role int

const (
	unknownRole role = iota
	passedOver       // fingers, toes, twist joints and other helpers
	clavicle
	shoulder
	someArm
	upperArm
	forearm
	hand
	hip
	someLeg
	thigh
	shin
	foot
	paw
)

// roleOf tells the role and whether the limb is a front leg, whose parts are
// those of an arm.
func roleOf(m meaning) (r role, foreleg bool) {
	has := func(what meaning) bool { return m&what != 0 }
	foreleg = has(saysFront) && has(saysLeg|saysThigh|saysShin|saysFoot|saysPaw|saysHip) ||
		has(saysFore) && has(saysLeg|saysFoot|saysPaw)
	switch {
	case has(saysHelper | saysDigit):
		return passedOver, false
	case has(saysPaw):
		r = paw
	case has(saysHand):
		r = hand
	case has(saysFoot):
		r = foot
	case has(saysForearm), has(saysArm) && has(saysLower|saysFore):
		r = forearm
	case has(saysUpperArm), has(saysArm) && has(saysUpper):
		r = upperArm
	case has(saysShin), has(saysLeg) && has(saysLower):
		r = shin
	case has(saysThigh), has(saysLeg) && has(saysUpper):
		r = thigh
	case has(saysClavicle):
		r = clavicle
	case has(saysShoulder):
		r = shoulder
	case has(saysArm):
		r = someArm
	case has(saysLeg):
		r = someLeg
	case has(saysHip) && has(saysLeft|saysRight): // without a side it is the pelvis
		r = hip
	}
	if foreleg {
		r = map[role]role{paw: hand, foot: hand, shin: forearm, thigh: upperArm, someLeg: someArm, hip: shoulder}[r]
	}
	return r, foreleg
}

// isArm reports whether a role is a part of an arm or front leg.
func (r role) isArm() bool { return r >= clavicle && r <= hand }

// isLeg reports whether a role is a part of a leg.
func (r role) isLeg() bool { return r >= hip && r <= foot }

// isTip reports whether a role ends a limb.
func (r role) isTip() bool { return r == hand || r == foot || r == paw }

// isThigh reports whether a limb is a thigh, by its own name or else by its
// joint's.
func isThigh(spec LimbSpec) bool { return specRole(spec) == thigh }

// isUpperArm reports whether a limb is an upper arm, or the upper bone of a
// front leg, by its own name or else by its joint's.
func isUpperArm(spec LimbSpec) bool { return specRole(spec) == upperArm }

func specRole(spec LimbSpec) role {
	for _, name := range []string{spec.Name, spec.Joint} {
		r, _ := roleOf(meaningOf(splitName(name)))
		switch r {
		case hip: // joints are also called by the joint itself, not the bone
			return thigh
		case shoulder:
			return upperArm
		case thigh, upperArm, forearm, shin:
			return r
		}
	}
	return unknownRole
}

// sideOf is -1 for the right, 1 for the left and 0 for neither or both.
func sideOf(m meaning) int {
	switch m & (saysLeft | saysRight) {
	case saysLeft:
		return 1
	case saysRight:
		return -1
	}
	return 0
}
