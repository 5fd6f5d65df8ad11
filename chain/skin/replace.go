package skin

import "math"

// Influence is a joint's hold on a vertex. Joint is an index into whatever the
// caller numbers its joints by, as a rule the skin's joint list.
type Influence struct {
	Joint  int
	Weight float64
}

// Split tells how one joint's influence on one vertex is to be replaced.
type Split struct {
	Joint    int     // the joint that was split
	Segments []int   // its segments, from the joint to the bone's end; may include Joint
	U        float64 // the vertex' place along the bone, 0 to 1, clamped
}

// Replace hands the influence that each split joint has on a vertex to the
// joint's segments, in the proportions of the basis at the vertex' place along
// the bone, with no more than most influences in the end (4 is one glTF set, 8
// two; below 1 counts as 1). It overwrites dst, grown if need be, and returns
// it; dst may share memory with vertex. weightMoved is the weight that moved from
// where it belongs to other segments or joints, as a fraction of the vertex' whole: 0
// where there was room for all.
//
// A vertex has room for a few influences and often several claims on it: hips,
// spine and both thighs at the crotch, upper arm and forearm at the elbow. Room is
// made in this order:
//
//  1. A vertex with more than most influences to begin with loses its smallest
//     ones (of equals the last); the others grow in proportion.
//  2. Where there are slots for Hat's one or two segments of every split joint,
//     they have them, which keeps the mean of the twist exact. Slots that are left
//     go to the basis asked for, or to Quadratic in place of Cubic, so that the
//     weight moved, over all split joints, is least.
//  3. Where there are not, the vertex' parts that count least give way: joints that
//     are not split, which count six times their weight, and the lesser of two
//     segments. As many go as have no slot; parts that count up to three times as
//     much as those lose in proportion, so that weights change continuously from
//     vertex to vertex. What a segment loses its neighbour gets. What joints that
//     are not split lose, those that remain get in proportion; only if none
//     remains, the split joints. None of them loses more than a twelfth of what
//     the split joints have.
//
// What is kept: the sum of the weights, whatever it was, to 1e-15 of itself; the
// order, a joint's segments standing in the joint's place; unless rule 1 or 3
// applies, every bit of the weights of joints that are not split; and what a
// split joint had, its segments have, unless rule 1 applies or rule 3 leaves no
// other joint. In the bind pose a vertex stays where it was in any case. In other
// poses it stays as long as the segments move as their joint, unless rule 1 or 3
// took weight from a joint.
//
// Input that should not be is made good: a joint listed twice is taken once, in
// its first place, with both weights; weights that are not positive are not
// kept (and take no part in the sum); of two splits of one joint the first
// counts; a split without segments, or whose U is NaN, leaves its joint as it
// is; a segment that holds the vertex already, or belongs to two splits, is
// listed once. Segments are not split in their turn. Weights have to be finite
// and so has their sum.
//
// With up to eight influences on the vertex and room in dst nothing is
// allocated.
func Replace(dst, vertex []Influence, splits []Split, basis Basis, most int) (held []Influence, weightMoved float64) {
	most = max(most, 1)
	var room [8]claim // on the stack; append goes to the heap for more
	claims, ofJoints := fit(merged(room[:0], vertex, splits), most)
	total := sum(claims)
	moved, squeezed := squeeze(claims, splits, basis, most)
	if !squeezed {
		moved = allot(claims, splits, basis, most)
	}
	dst = dst[:0]
	for i := range claims {
		c := &claims[i]
		if c.split < 0 {
			dst = add(dst, c.joint, c.weight)
			continue
		}
		segments := splits[c.split].Segments
		for i, weight := range c.shape.weight {
			if weight > 0 {
				dst = add(dst, segments[c.shape.first+i], c.weight*weight)
			}
		}
	}
	if moved > 0 {
		ofJoints += (1 - ofJoints) * moved / total
	}
	return dst, min(ofJoints, 1)
}

// claim is a joint's claim on a vertex.
type claim struct {
	joint  int
	weight float64
	split  int    // index into the splits, -1 for a joint that is not split
	shape  window // what a split joint's segments get of the weight
}

// merged lists a vertex' influences, each joint once.
func merged(claims []claim, vertex []Influence, splits []Split) []claim {
next:
	for _, v := range vertex {
		if !(v.Weight > 0) {
			continue
		}
		for i := range claims {
			if claims[i].joint == v.Joint {
				claims[i].weight += v.Weight
				continue next
			}
		}
		claims = append(claims, claim{joint: v.Joint, weight: v.Weight, split: splitOf(v.Joint, splits)})
	}
	return claims
}

func splitOf(joint int, splits []Split) int {
	for i := range splits {
		if splits[i].Joint == joint {
			if len(splits[i].Segments) == 0 || math.IsNaN(splits[i].U) {
				return -1
			}
			return i
		}
	}
	return -1
}

// fit drops the smallest claims until no more than most are left and lets the
// rest grow to the same sum. It returns the fraction that moved by that.
func fit(claims []claim, most int) ([]claim, float64) {
	if len(claims) <= most {
		return claims, 0
	}
	whole := sum(claims)
	for len(claims) > most {
		least := 0
		for i := range claims {
			if claims[i].weight <= claims[least].weight {
				least = i
			}
		}
		claims = append(claims[:least], claims[least+1:]...)
	}
	kept := sum(claims)
	for i := range claims {
		claims[i].weight *= whole / kept
	}
	return claims, (whole - kept) / whole
}

func sum(claims []claim) float64 {
	var sum float64
	for i := range claims {
		sum += claims[i].weight
	}
	return sum
}

// add appends an influence, or adds it to the one its joint has.
func add(dst []Influence, joint int, weight float64) []Influence {
	if !(weight > 0) { // a product that underflowed
		return dst
	}
	for i := range dst {
		if dst[i].Joint == joint {
			dst[i].Weight += weight
			return dst
		}
	}
	return append(dst, Influence{Joint: joint, Weight: weight})
}
