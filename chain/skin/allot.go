package skin

import "math"

// within is the best that slots segments can do for the basis at u: the basis
// itself if it needs no more, else whichever of the simpler ones fits and moves
// the least weight. There have to be enough slots for Hat. It returns the weight
// moved, as a fraction.
func (b Basis) within(n int, u float64, slots int) (moved float64, best window) {
	ideal := b.window(n, u)
	if ideal.count() <= slots {
		return 0, ideal
	}
	best = Hat.window(n, u)
	moved = ideal.movedTo(best)
	if b == Cubic {
		w := Quadratic.window(n, u)
		if m := ideal.movedTo(w); w.count() <= slots && m <= moved {
			return m, w
		}
	}
	return moved, best
}

// most segments at one place, over all bases.
const widest = 4

// allot hands out most slots so that the weight moved is least in all; of equally
// good ways it is the one that gives the later claims fewer. There have to be
// enough for two segments of each split joint, or one where Hat has one. It returns
// the weight moved.
//
// The costs are not convex in the slots (close to a node two slots do no better
// than one, three do all), so handing out one slot at a time where it helps
// most can go wrong; the table below goes through all ways to share.
func allot(claims []claim, splits []Split, basis Basis, most int) (moved float64) {
	wanted, spare := 0, most // spare are the slots beyond those that Hat needs
	for i := range claims {
		c := &claims[i]
		if c.split < 0 {
			wanted++
			spare--
			continue
		}
		c.shape = c.by(basis, splits)
		wanted += c.shape.count()
		spare -= c.by(Hat, splits).count()
	}
	if wanted <= most {
		return 0
	}
	// On the stack up to eight influences: spare is at most 7 then, and
	// claims times ways to share it at most 4·5.
	var bestRoom [8]float64
	var takenRoom [20]uint8
	best, taken := bestRoom[:], takenRoom[:]
	if ways := spare + 1; ways > len(best) || len(claims)*ways > len(taken) {
		best, taken = make([]float64, ways), make([]uint8, len(claims)*ways)
	}
	// best[e] is the least weight moved by the claims so far with e slots
	// beyond those of Hat.
	for i := range claims {
		c := &claims[i]
		var cost [widest]float64
		if c.split >= 0 {
			for extra := range cost {
				m, _ := c.within(basis, splits, extra)
				cost[extra] = c.weight * m
			}
		}
		for e := spare; e >= 0; e-- {
			least, took := math.Inf(1), 0
			for extra := 0; extra < widest && extra <= e; extra++ {
				if m := best[e-extra] + cost[extra]; m < least {
					least, took = m, extra
				}
			}
			best[e] = least // entries below e are still those of the claims before
			taken[i*(spare+1)+e] = uint8(took)
		}
	}
	moved = best[spare]
	e := spare
	for i := len(claims) - 1; i >= 0; i-- {
		took := int(taken[i*(spare+1)+e])
		if c := &claims[i]; c.split >= 0 {
			_, c.shape = c.within(basis, splits, took)
		}
		e -= took
	}
	return moved
}

// within is the best that a split joint's segments can do with so many slots
// beyond those of Hat.
func (c *claim) within(b Basis, splits []Split, extra int) (moved float64, best window) {
	s := &splits[c.split]
	return b.within(len(s.Segments), s.U, c.by(Hat, splits).count()+extra)
}

// by is the weights of a split joint's segments by a basis.
func (c *claim) by(b Basis, splits []Split) window {
	s := &splits[c.split]
	return b.window(len(s.Segments), s.U)
}
