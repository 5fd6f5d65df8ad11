package skin

import "math"

// SlightWeight is the most, as a fraction of a vertex' whole, that a joint which
// is not split may lose to make room: more would be seen when that joint moves
// (common practice, no source: painters prune about as much).
const SlightWeight = 0.1

// yield lets the slightest joints that are not split go as long as that spares
// the split ones more than it costs. It takes and returns the claims with their
// slots allotted, the fraction dropped so far and the weight moved.
func yield(claims []claim, splits []Split, basis Basis, most int, dropped, moved float64) ([]claim, float64, float64) {
	off := drift(claims, splits, basis)
	for off > 0 {
		least := slightest(claims)
		if least < 0 {
			break
		}
		var room [8]claim
		fewer := append(room[:0], claims...)
		whole, gone := sum(fewer), fewer[least].weight
		if gone > SlightWeight*whole {
			break
		}
		fewer = append(fewer[:least], fewer[least+1:]...)
		grow(fewer, whole)
		fewerMoved, _ := allot(fewer, splits, basis, most)
		fewerOff := drift(fewer, splits, basis)
		if gone+fewerOff >= off {
			break
		}
		dropped += (1 - dropped) * gone / whole
		claims = append(claims[:0], fewer...)
		moved, off = fewerMoved, fewerOff
	}
	return claims, dropped, moved
}

// drift is how far along their bones the split joints' segments turn the vertex
// from where they should, weighted: the error of the mean of the twist, which
// only a joint reduced to one segment has.
func drift(claims []claim, splits []Split, basis Basis) (off float64) {
	for i := range claims {
		c := &claims[i]
		if c.split < 0 {
			continue
		}
		s := &splits[c.split]
		n := len(s.Segments)
		if n < 2 {
			continue
		}
		if _, w := basis.within(n, s.U, c.slots); w.count() == 1 {
			off += c.weight * math.Abs(w.mean(n)-min(max(s.U, 0), 1))
		}
	}
	return off
}

// slightest is the claim of the least weight among joints that are not split, of
// equals the last; -1 where all are split.
func slightest(claims []claim) int {
	least := -1
	for i := range claims {
		if claims[i].split < 0 && (least < 0 || claims[i].weight <= claims[least].weight) {
			least = i
		}
	}
	return least
}
