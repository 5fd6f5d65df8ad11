package skin

import "slices"

const (
	// worth is how many times the weight of a joint that is not split counts,
	// against the weight of a segment. Chosen by measurement on persons with four
	// influences a vertex: with 4 the skin is strained more where the spine bends,
	// with 8 more where the thigh twists.
	worth = 6
	// ramp is how many times the threshold a part has to count to keep all of its
	// weight. Below, it keeps less, down to nothing at the threshold.
	ramp = 3
)

// squeeze makes room where two segments for each split joint do not fit. It
// reports whether that was so, and the weight moved.
//
// The vertex is taken apart: each joint that is not split is a part, and so is
// each segment by Hat. The parts that count least give way until most are left. A
// split joint's heavier segment never does. If parts simply went, the weights of
// neighbouring vertices would differ by a whole part where the least part is
// another one. So the count of the greatest part to go is a threshold, and parts
// above it lose in proportion to how near it they are.
func squeeze(claims []claim, splits []Split, basis Basis, most int) (moved float64, squeezed bool) {
	var room [16]float64 // two parts for each of eight claims
	counts := room[:0]
	free, whole, others := most, 0., 0.
	for i := range claims {
		c := &claims[i]
		whole += c.weight
		if c.split < 0 {
			others += c.weight
			counts = append(counts, worth*c.weight)
			continue
		}
		free--
		if w := c.by(Hat, splits); w.count() > 1 {
			counts = append(counts, c.weight*min(w.weight[0], w.weight[1]))
		}
	}
	if len(counts) <= free {
		return 0, false
	}
	slices.Sort(counts)
	threshold := counts[len(counts)-1-free]

	kept := 0.
	for i := range claims {
		if c := &claims[i]; c.split < 0 {
			kept += c.weight * keeps(worth*c.weight, threshold)
		}
	}
	for i := range claims {
		c := &claims[i]
		if c.split >= 0 {
			ideal := c.by(basis, splits)
			c.shape = c.by(Hat, splits).squeezed(c.weight, threshold)
			moved += c.weight * ideal.movedTo(c.shape)
			if kept == 0 && others > 0 { // nobody else is there to take it
				c.weight *= whole / (whole - others)
			}
			continue
		}
		before := c.weight
		c.weight *= keeps(worth*before, threshold)
		if kept < others && kept > 0 {
			c.weight = c.weight / kept * others
		}
		moved += max(0, before-c.weight)
	}
	return moved, true
}

// keeps is the fraction of its weight that a part keeps which counts so much.
func keeps(count, threshold float64) float64 {
	if !(count > threshold) {
		return 0
	}
	return min((1-threshold/count)*(ramp/(ramp-1.)), 1)
}

// squeezed is a hat whose lesser weight gives way. Both weights are treated alike,
// so that nothing jumps where they are equal, unless there is no room for two.
func (w window) squeezed(weight, threshold float64) window {
	if w.count() < 2 {
		return w
	}
	first := keeps(weight*w.weight[0], threshold)
	second := keeps(weight*w.weight[1], threshold)
	switch {
	case first == 0 && second == 0:
		if w.weight[1] > w.weight[0] {
			return hat(w.first, 1)
		}
		return hat(w.first, 0)
	case first == 1 && second == 1:
		return w
	}
	a, b := w.weight[0]*first, w.weight[1]*second
	return hat(w.first, b/(a+b))
}
