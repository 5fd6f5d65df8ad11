package asset

import (
	"cmp"
	"slices"
)

// boneChain is the joints of one limb, from the torso outwards.
type boneChain struct {
	joints  []int
	tip     bool // the last one is a hand or foot
	arm     bool
	foreleg bool
	side    int
}

// found is one bone to split.
type found struct {
	part       role // upperArm, forearm or thigh
	foreleg    bool
	side       int
	joint, end int
	tip        int // -1 for a bone that ramps its own twist
}

// find is what the names and the hierarchy give.
func (d *detector) find() []found {
	taken := map[int]bool{}
	var all []found
	for _, chain := range d.chains() {
		for _, bone := range d.bones(chain) {
			if !taken[bone.joint] {
				taken[bone.joint] = true
				all = append(all, bone)
			}
		}
	}
	d.sidesByPlace(all)
	order := map[role]int{thigh: 0, upperArm: 1, forearm: 2}
	slices.SortStableFunc(all, func(a, b found) int {
		return cmp.Or(
			cmp.Compare(order[a.part], order[b.part]),
			-cmp.Compare(a.side, b.side),
			cmp.Compare(a.joint, b.joint),
		)
	})
	return all
}

// limbs proposes what was found, and says what is not worth a split.
func (d *detector) limbs(all []found) (limbs []LimbSpec, skipped []SkippedLimb) {
	for i, spec := range d.specs(all) {
		if why := d.whyNot(all[i]); why != "" {
			skipped = append(skipped, SkippedLimb{Name: spec.Name, Joint: spec.Joint, Reason: why, Spec: spec})
			continue
		}
		limbs = append(limbs, spec)
	}
	return limbs, skipped
}

// chains follows limbs from their outer ends to the torso: first from hands and
// feet, those that deform something before others and the more the sooner, as
// several palms may end one arm; then, for limbs without, from the last joint of
// the limb.
func (d *detector) chains() []boneChain {
	var ends []int
	for _, node := range d.order {
		up := d.up[node]
		switch r := d.role[node]; {
		case r.isTip():
			if up < 0 || !d.role[up].isTip() { // else a hand below a wrist
				ends = append(ends, node)
			}
		case (r.isArm() || r.isLeg()) && d.branches[node] == 0:
			ends = append(ends, node)
		}
	}
	rank := func(node int) int {
		switch {
		case !d.role[node].isTip():
			return 2
		case d.skin.moved[node] == 0:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(ends, func(a, b int) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(d.skin.below[b], d.skin.below[a]))
	})
	covered := map[int]bool{}
	var out []boneChain
	for _, end := range ends {
		if covered[end] {
			continue
		}
		chain := d.climb(end)
		if !chain.tip {
			chain = d.withEnd(chain)
		}
		for _, node := range chain.joints {
			covered[node] = true
		}
		out = append(out, chain)
	}
	return out
}

// climb follows a limb upwards.
func (d *detector) climb(end int) boneChain {
	const longest = 12 // joints: more are no limb but a rope
	c := boneChain{joints: []int{end}, tip: d.role[end].isTip(), foreleg: d.foreleg[end], side: d.side[end]}
	legs := 0
	for at := end; len(c.joints) < longest; {
		up := d.up[at]
		if up < 0 || !d.sameLimb(up, at) || c.side*d.side[up] < 0 {
			break
		}
		c.joints = append(c.joints, up)
		at = up
		c.foreleg = c.foreleg || d.foreleg[up]
		if c.side == 0 {
			c.side = d.side[up]
		}
		if d.role[up] == clavicle {
			break
		}
	}
	slices.Reverse(c.joints)
	for _, node := range c.joints {
		switch r := d.role[node]; {
		case r.isArm():
			c.arm = true
		case r.isLeg():
			legs++
		}
	}
	c.arm = c.arm && legs == 0
	return c
}

// bones picks the bones of a chain that are worth a split.
func (d *detector) bones(c boneChain) []found {
	upper, lower := d.pick(c)
	var out []found
	add := func(part role, at int, tip int) {
		joint := c.joints[at]
		if !d.joints[joint] || d.skin.moved[joint] == 0 {
			return
		}
		for _, end := range c.joints[at+1:] {
			if d.length(joint, end) > d.least() {
				out = append(out, found{part: part, foreleg: c.foreleg, side: c.side, joint: joint, end: end, tip: tip})
				return
			}
		}
	}
	if upper >= 0 {
		part := thigh
		if c.arm {
			part = upperArm
		}
		add(part, upper, -1)
	}
	if lower >= 0 && c.arm && c.tip {
		add(forearm, lower, c.joints[lower+1])
	}
	return out
}

// pick finds the upper and the lower bone of a chain by their places in it, -1
// for none.
func (d *detector) pick(c boneChain) (upper, lower int) {
	last := len(c.joints) - 1 // of the bones; the tip is none
	if c.tip {
		last--
	}
	first := 0
	for first <= last && d.role[c.joints[first]] == clavicle {
		first++
	}
	isUpper := func(i int) bool { r := d.role[c.joints[i]]; return r == upperArm || r == thigh }
	isLower := func(i int) bool { r := d.role[c.joints[i]]; return r == forearm || r == shin }
	bone := func(i int) float64 { return d.length(c.joints[i], c.joints[i+1]) }
	upper, lower = -1, -1
	for i := first; i <= last; i++ {
		switch {
		case isUpper(i) && upper < 0:
			upper = i // the first: where the limb turns
		case isLower(i) && lower < 0:
			lower = i
		}
	}
	switch {
	case upper >= 0: // said outright, but the femur may be called otherwise
		if !c.arm || c.foreleg {
			upper = d.haunch(c, first, upper)
		}
	case lower > first: // what is above the lower bone
		upper = lower - 1
	case lower >= 0 || last < first: // a lower bone without an upper, or nothing
	case last == first:
		// One bone: all of an arm or leg that has no elbow or knee. A lone
		// shoulder or a name that only tells the side is none.
		if r := d.role[c.joints[first]]; r == someArm || r == someLeg {
			upper = first
		}
	default:
		upper = d.pickByLength(c, first, last, bone)
	}
	lower = -1
	switch {
	case upper >= 0 && c.foreleg && last > upper: // below it may be the metacarpus
		lower = upper + 1
	case upper >= 0 && last > upper && !isUpper(last) || upper < 0 && last >= first && isLower(last):
		lower = last
	}
	if upper == len(c.joints)-1 { // nothing below it to end the bone
		upper = -1
	}
	return upper, lower
}

// pickByLength finds the upper bone of two or more whose names leave it open.
// Arms are counted from the hand: forearm, then upper arm. Legs begin at the
// torso, after a short link to the hip, if there is one.
func (d *detector) pickByLength(c boneChain, first, last int, bone func(int) float64) int {
	short := first+2 < len(c.joints) && bone(first) < link*bone(first+1)
	switch {
	case c.foreleg && c.tip && last-first >= 3: // shoulder blade, humerus, radius, metacarpus
		return last - 2
	case c.arm && c.tip && last-first >= 2:
		return last - 1
	case short && (last-first >= 2 || d.role[c.joints[first]] == shoulder || d.role[c.joints[first]] == hip):
		return first + 1
	}
	return first
}
