package asset

// withEnd adds the joint where the last bone of a limb ends, if no name says
// hand or foot: of the joints below whose names say nothing, the one that moves
// most skin together with all below it. Hands are also called hook or claw, or
// begin at several joints side by side. Fingers and helpers are no hands: their
// twist is not that of the wrist.
func (d *detector) withEnd(c boneChain) boneChain {
	last := c.joints[len(c.joints)-1]
	// A joint nearer than this is a pad or a strap at the elbow or knee.
	least := d.least()
	if n := len(c.joints); n > 1 {
		least = max(least, link*d.length(c.joints[n-2], last))
	}
	best, most := -1, 0.
	for _, node := range d.down[last] {
		if d.role[node] != unknownRole || !d.joints[node] || d.side[node] != 0 && d.side[node] != c.side {
			continue
		}
		if moves := d.skin.below[node]; moves > most && d.length(last, node) >= least {
			best, most = node, moves
		}
	}
	if best >= 0 {
		c.joints, c.tip = append(c.joints, best), true
	}
	return c
}
