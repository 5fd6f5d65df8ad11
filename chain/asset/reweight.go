package asset

import (
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/chain/skin"
	"github.com/qmuntal/gltf"
)

// reweighter gives every vertex's share of a split joint to its segments.
type reweighter struct {
	file    *File
	limbs   []*limb
	pieces  *pieces
	basis   skin.Basis
	most    int              // influences a vertex may have
	perSkin map[int][]joined // by skin: the limbs it holds
	done    map[string]*reweighted
	stats   []limbStats // by limb
}

// joined is a limb as one skin knows it.
type joined struct {
	limb     int // index into limbs
	segments []int
	frame    boneFrame
	rules    map[piecePart]pieceRule
	homes    map[piecePart]int
}

// handover is how a vertex' weight on the limb's joint goes to the segments.
func (j *joined) handover(w *piecedPrimitive, v int) handover {
	p := piecePart{w.wearing, w.piece[v]}
	return handover{
		joint: j.frame.joint, segments: j.segments, u: j.frame.along(w.positions, v),
		rule: j.rules[p], home: j.homes[p.whole()],
	}
}

// limbStats are what a limb's report says about its vertices.
type limbStats struct {
	vertices int
	moved    float64 // the most weight of any one vertex that moved from its place
}

// reweighted is new skin data of one primitive, or of several that share it.
type reweighted struct {
	joints  [][][4]uint16 // by set
	weights [][][4]float64
	integer bool        // weights are counts of 65535
	stored  []storedSet // by set, once they are in the file
}

// storedSet are the accessors of JOINTS_n and WEIGHTS_n.
type storedSet struct{ joints, weights int }

// primitive works on one primitive under one skin. nil means that no vertex
// gives weight to a segment, that none came without weight, and that the primitive
// stays as it is.
func (r *reweighter) primitive(which wearing) *reweighted {
	limbs := r.perSkin[which.skin]
	index, skinned := r.pieces.index[which]
	if !skinned {
		return nil
	}
	p, source := r.file.Doc.Meshes[which.mesh].Primitives[which.primitive], &r.pieces.worn[index]
	if len(limbs) == 0 && r.isInteger(p) {
		return nil // integers are never NaN
	}
	key := r.key(p, source, limbs)
	if seen, ok := r.done[key]; ok {
		return seen
	}
	out := r.vertices(source, limbs, r.isInteger(p) && source.fitIntegers())
	r.done[key] = out
	return out
}

// key names the data that decides a primitive's weights, and the rules for what is
// not split: primitives that share all that are worked on once and go on sharing.
func (r *reweighter) key(p *gltf.Primitive, source *piecedPrimitive, limbs []joined) string {
	key := fmt.Sprint(source.skin, p.Attributes[gltf.POSITION])
	for set := range influenceSets(p) {
		key += fmt.Sprint(",", p.Attributes[fmt.Sprintf("JOINTS_%d", set)], p.Attributes[fmt.Sprintf("WEIGHTS_%d", set)])
	}
	for i := range limbs {
		if len(limbs[i].rules) == 0 {
			continue
		}
		seen := map[int]bool{}
		for v, piece := range source.piece {
			if seen[piece] {
				continue
			}
			seen[piece] = true
			if h := limbs[i].handover(source, v); h.rule != splitPiece {
				key += fmt.Sprint(";", i, piece, h.rule, h.home)
			}
		}
	}
	return key
}

// isInteger reports whether all of a primitive's weights are stored as
// normalised integers.
func (r *reweighter) isInteger(p *gltf.Primitive) bool {
	for set := range influenceSets(p) {
		if r.file.Doc.Accessors[p.Attributes[fmt.Sprintf("WEIGHTS_%d", set)]].ComponentType == gltf.ComponentFloat {
			return false
		}
	}
	return true
}

// fitIntegers reports whether no vertex' weights add up to more than 1: shares
// of more would not fit into 16 bits.
func (s *skinnedVertices) fitIntegers() bool {
	for v := range len(s.positions) / 3 {
		total := 0.
		for _, set := range s.influences {
			for _, weight := range set[v].weights {
				total += math.Round(weight * 65535)
			}
		}
		if total > 65535 {
			return false
		}
	}
	return true
}

func (r *reweighter) vertices(source *piecedPrimitive, limbs []joined, integer bool) *reweighted {
	vertices := len(source.positions) / 3
	// A primitive that came with more influences than asked for keeps them:
	// fewer would move vertices that have nothing to do with a limb.
	most := max(r.most, 4*len(source.influences))
	sets := (most + 3) / 4
	out := &reweighted{integer: integer}
	for range sets {
		out.joints = append(out.joints, make([][4]uint16, vertices))
		out.weights = append(out.weights, make([][4]float64, vertices))
	}
	var before, after []skin.Influence
	var given []handover
	// What the reader repaired is written repaired: a NaN must not be copied.
	touched, used := len(source.unweighted) > 0, len(source.influences)
	for v := range vertices {
		before = appendInfluences(before[:0], source.skinnedVertices, v)
		given = r.handovers(given[:0], before, limbs, source, v)
		if len(given) == 0 {
			copyInfluences(out, source.skinnedVertices, v, integer)
			continue
		}
		touched = true
		var moved float64
		after, moved = handOver(after[:0], before, given, r.basis, most)
		r.count(given, limbs, moved)
		used = max(used, out.store(v, before, after))
	}
	if !touched {
		return nil
	}
	sets = max(len(source.influences), (used+3)/4)
	out.joints, out.weights = out.joints[:sets], out.weights[:sets]
	return out
}

func appendInfluences(dst []skin.Influence, source *skinnedVertices, v int) []skin.Influence {
	for _, set := range source.influences {
		for k, weight := range set[v].weights {
			if weight > 0 {
				dst = append(dst, skin.Influence{Joint: int(set[v].joints[k]), Weight: weight})
			}
		}
	}
	return dst
}

// copyInfluences leaves a vertex as it was, slot by slot.
func copyInfluences(dst *reweighted, source *skinnedVertices, v int, integer bool) {
	for set, influences := range source.influences {
		dst.joints[set][v] = influences[v].joints
		dst.weights[set][v] = influences[v].weights
		if integer {
			for k := range dst.weights[set][v] {
				dst.weights[set][v][k] = math.Round(dst.weights[set][v][k] * 65535)
			}
		}
	}
}

// handovers lists what becomes of a vertex' weights on split joints, but for those
// that stay.
func (r *reweighter) handovers(dst []handover, influences []skin.Influence, limbs []joined, source *piecedPrimitive, v int) []handover {
	for i := range limbs {
		l := &limbs[i]
		if !slices.ContainsFunc(influences, func(x skin.Influence) bool { return x.Joint == l.frame.joint }) {
			continue
		}
		if h := l.handover(source, v); h.rule != leftPiece {
			dst = append(dst, h)
		}
	}
	return dst
}

func (r *reweighter) count(given []handover, limbs []joined, moved float64) {
	for _, h := range given {
		at := slices.IndexFunc(limbs, func(l joined) bool { return l.frame.joint == h.joint })
		stats := &r.stats[limbs[at].limb]
		stats.vertices++
		stats.moved = max(stats.moved, moved)
	}
}

// store writes a vertex's new influences and returns how many there are.
func (w *reweighted) store(v int, before, after []skin.Influence) int {
	if w.integer {
		total := 0.0
		for _, x := range before {
			total += math.Round(x.Weight * 65535)
		}
		after = apportion(after, total)
	}
	for set := range w.weights {
		w.joints[set][v], w.weights[set][v] = [4]uint16{}, [4]float64{}
	}
	for i, x := range after {
		w.joints[i/4][v][i%4], w.weights[i/4][v][i%4] = uint16(x.Joint), x.Weight
	}
	return len(after)
}

// apportion turns weights into whole counts that add up to total, by largest
// remainder: integer weights have to sum to exactly one (glTF 2.0, section
// 3.7.3.3). Influences left with nothing go.
func apportion(influences []skin.Influence, total float64) []skin.Influence {
	sum := 0.0
	for _, x := range influences {
		sum += x.Weight
	}
	remainders := make([]float64, len(influences))
	left := total
	for i := range influences {
		exact := influences[i].Weight / sum * total
		influences[i].Weight = math.Floor(exact)
		remainders[i] = exact - influences[i].Weight
		left -= influences[i].Weight
	}
	for ; left >= 1; left-- {
		at := 0
		for i, remainder := range remainders {
			if remainder > remainders[at] {
				at = i
			}
		}
		influences[at].Weight++
		remainders[at] = -1
	}
	return slices.DeleteFunc(influences, func(x skin.Influence) bool { return x.Weight == 0 })
}
