package skin

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawn is a vertex as a broken exporter might write it.
type drawn struct {
	vertex []Influence
	splits []Split
	basis  Basis
	most   int
}

func genVertex() *rapid.Generator[drawn] {
	return rapid.Custom(func(t *rapid.T) drawn {
		d := drawn{
			basis: rapid.SampledFrom(bases).Draw(t, "basis"),
			most:  rapid.SampledFrom([]int{4, 4, 8, 1, 2, 3, 12}).Draw(t, "most"),
		}
		weight := rapid.OneOf(rapid.Float64Range(0, 1), rapid.SampledFrom([]float64{0, 0.25, 1, 1e-12, 5e-324}))
		for range rapid.IntRange(0, 10).Draw(t, "influences") {
			d.vertex = append(d.vertex, Influence{rapid.IntRange(0, 9).Draw(t, "joint"), weight.Draw(t, "weight")})
		}
		for joint := range rapid.IntRange(0, 4).Draw(t, "splits") {
			n := rapid.IntRange(1, 7).Draw(t, "segments")
			d.splits = append(d.splits, thigh(10+joint, genPlace(n).Draw(t, "u"), n))
			d.splits[joint].Joint = joint
		}
		return d
	})
}

// exactSum adds without rounding to speak of (Neumaier 1974, from memory).
func exactSum(vertex []Influence) float64 {
	var sum, lost float64
	for _, v := range vertex {
		next := sum + v.Weight
		if math.Abs(sum) >= math.Abs(v.Weight) {
			lost += (sum - next) + v.Weight
		} else {
			lost += (v.Weight - next) + sum
		}
		sum = next
	}
	return sum + lost
}

func TestExactSum(t *testing.T) {
	require.Equal(t, 1+eps, exactSum([]Influence{{0, 1}, {0, eps / 4}, {0, eps / 4}, {0, eps / 4}, {0, eps / 4}}))
}

// byJoint adds up the weights of each joint.
func byJoint(vertex []Influence) map[int]float64 {
	sums := map[int]float64{}
	for _, v := range vertex {
		if v.Weight > 0 {
			sums[v.Joint] += v.Weight
		}
	}
	return sums
}

func replaceKeeps(t *rapid.T) {
	d := genVertex().Draw(t, "vertex")
	got, all := Replace(nil, d.vertex, d.splits, d.basis, d.most)
	before, after := byJoint(d.vertex), byJoint(got)

	require.LessOrEqual(t, len(got), d.most)
	require.Len(t, after, len(got), "no joint twice, no zero weight")
	require.True(t, all >= 0 && all <= 1, "%v", all)
	whole := exactSum(d.vertex)
	// A sum of subnormals has no bits to spare: as much again as the smallest.
	require.InDelta(t, whole, exactSum(got), 1e-15*whole+8*5e-324, "the sum stays")

	split := map[int]int{}
	for i, s := range d.splits {
		split[s.Joint] = i
	}
	if len(before) > d.most {
		return
	}
	for joint, weight := range before {
		i, isSplit := split[joint]
		if !isSplit {
			require.Equal(t, weight, after[joint], "joint %d is untouched, bit for bit", joint)
			continue
		}
		var sum float64
		for _, segment := range d.splits[i].Segments {
			sum += after[segment]
		}
		require.InDelta(t, weight, sum, 1e-15*weight+8*5e-324, "what joint %d had, its segments have", joint)
	}

	// In the vertex' order.
	place := func(joint int) int {
		if joint >= 100 {
			joint = joint/10 - 10
		}
		return slices.IndexFunc(d.vertex, func(v Influence) bool { return v.Joint == joint && v.Weight > 0 })
	}
	require.True(t, slices.IsSortedFunc(got, func(a, b Influence) int { return place(a.Joint) - place(b.Joint) }))

	again, droppedAgain := Replace(nil, got, nil, d.basis, d.most)
	require.True(t, slices.Equal(got, again), "nothing left to do")
	require.Zero(t, droppedAgain)
}

func TestReplaceKeeps(t *testing.T) { rapid.Check(t, replaceKeeps) }
func FuzzReplaceKeeps(f *testing.F) { f.Fuzz(rapid.MakeFuzz(replaceKeeps)) }

// While the segments move as their joint, a vertex stays where the joint put
// it: linear blending with any affine motion per joint, here one number each.
func replaceAtRest(t *rapid.T) {
	d := genVertex().Draw(t, "vertex")
	if len(byJoint(d.vertex)) > d.most {
		t.Skip("more than most to begin with")
	}
	got, _ := Replace(nil, d.vertex, d.splits, d.basis, d.most)
	place := make([]float64, 10)
	for i := range place {
		place[i] = rapid.Float64Range(-1, 1).Draw(t, "place")
	}
	var want, at float64
	for _, v := range d.vertex {
		want += v.Weight * place[v.Joint]
	}
	for _, v := range got {
		joint := v.Joint
		if joint >= 100 {
			joint = joint/10 - 10
		}
		at += v.Weight * place[joint]
	}
	require.InDelta(t, want, at, 32*eps*(1+exactSum(d.vertex)))
}

func TestReplaceAtRest(t *testing.T) { rapid.Check(t, replaceAtRest) }
func FuzzReplaceAtRest(f *testing.F) { f.Fuzz(rapid.MakeFuzz(replaceAtRest)) }

// The weight reported as moved is the distance between what the basis asks for
// and what there is, and no other way of sharing the slots moves less: all of
// them are tried.
func replaceMovesLeast(t *rapid.T) {
	d := genVertex().Draw(t, "vertex")
	before := byJoint(d.vertex)
	if len(before) > d.most || len(before) == 0 {
		t.Skip("nothing to share")
	}
	got, all := Replace(nil, d.vertex, d.splits, d.basis, d.most)
	whole := exactSum(d.vertex)
	if whole < 1e-300 {
		t.Skip("subnormal weights: fractions of them mean nothing")
	}

	ideal := map[int]float64{}
	for joint, weight := range before {
		ideal[joint] = weight
	}
	var options [][][]Influence // per split joint with weight: ways to do it
	free := d.most
	for joint := range before {
		if joint >= len(d.splits) {
			free--
		}
	}
	for _, s := range d.splits {
		weight, ok := before[s.Joint]
		if !ok {
			continue
		}
		delete(ideal, s.Joint)
		full := make([]float64, len(s.Segments))
		d.basis.Weights(full, s.U)
		for i, w := range full {
			ideal[s.Segments[i]] += weight * w
		}
		options = append(options, waysToDo(d.basis, s, weight))
	}
	after := byJoint(got)
	var moved float64
	for joint, weight := range ideal {
		moved += max(0, weight-after[joint])
	}
	require.InDelta(t, moved/whole, all, 64*eps, "reported")

	best := math.Inf(1)
	var try func(i, slots int, moved float64)
	try = func(i, slots int, moved float64) {
		if slots < 0 {
			return
		}
		if i == len(options) {
			best = min(best, moved)
			return
		}
		for _, way := range options[i] {
			has := byJoint(way)
			var m float64
			for _, segment := range segmentsOf(options[i]) {
				m += max(0, ideal[segment]-has[segment])
			}
			try(i+1, slots-max(len(has), 1), moved+m) // a weight may underflow, its slot stays
		}
	}
	try(0, free, 0)
	require.LessOrEqual(t, moved, best+64*eps*whole, "least")
}

func segmentsOf(ways [][]Influence) []int {
	var segments []int
	for _, v := range ways[0] { // the basis itself covers its fallbacks
		segments = append(segments, v.Joint)
	}
	return segments
}

// waysToDo lists a split joint's weight by its basis, by the simpler ones and
// by each single segment.
func waysToDo(b Basis, s Split, weight float64) [][]Influence {
	var ways [][]Influence
	n := len(s.Segments)
	for _, simpler := range []Basis{b, Quadratic, Hat} {
		if simpler.Spread() > b.Spread() {
			continue
		}
		w := make([]float64, n)
		simpler.Weights(w, s.U)
		var way []Influence
		for i := range w {
			way = append(way, Influence{s.Segments[i], weight * w[i]})
		}
		ways = append(ways, way)
	}
	for i := range n {
		ways = append(ways, []Influence{{s.Segments[i], weight}})
	}
	return ways
}

func TestReplaceMovesLeast(t *testing.T) { rapid.Check(t, replaceMovesLeast) }
func FuzzReplaceMovesLeast(f *testing.F) { f.Fuzz(rapid.MakeFuzz(replaceMovesLeast)) }
