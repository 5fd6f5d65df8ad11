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

// hasRoomForHats reports whether a vertex has slots for all joints, with the segments
// that Hat has of each split one: where it has not, slight joints give way.
func (d drawn) hasRoomForHats() bool {
	slots := 0
	for joint := range byJoint(d.vertex) {
		if joint >= len(d.splits) {
			slots++
			continue
		}
		w := make([]float64, len(d.splits[joint].Segments))
		Hat.Weights(w, d.splits[joint].U)
		for _, weight := range w {
			if weight > 0 {
				slots++
			}
		}
	}
	return slots <= d.most
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
	// What joints that are not split have, before and after, and those that are.
	var had, have, limb float64
	for joint, weight := range before {
		if _, isSplit := split[joint]; isSplit {
			limb += weight
			continue
		}
		had += weight
		have += after[joint]
	}
	for joint, weight := range before {
		i, isSplit := split[joint]
		if !isSplit {
			if d.hasRoomForHats() {
				require.Equal(t, weight, after[joint], "joint %d is untouched, bit for bit", joint)
			}
			require.LessOrEqual(t, weight-after[joint], limb/12+1e-15*whole+8*5e-324, "joint %d gives way if it is slight", joint)
			continue
		}
		if had > 0 && have == 0 {
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
// Where slight joints gave way, that holds if the joints that are not split move
// as one, as they do while a limb bends.
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
	if !d.hasRoomForHats() {
		var had, have bool
		for joint := len(d.splits); joint < len(place); joint++ {
			place[joint] = place[len(place)-1]
			had = had || byJoint(d.vertex)[joint] > 0
			have = have || byJoint(got)[joint] > 0
		}
		if had && !have {
			t.Skip("nothing but split joints is left")
		}
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
// and what there is. Where two segments of each split joint fit, no other way of
// sharing the slots that keeps the mean of the twist moves less: all of them are
// tried.
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
	var had, have bool
	after := byJoint(got)
	for joint := range before {
		if joint >= len(d.splits) {
			free--
			had, have = true, have || after[joint] > 0
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
	var moved float64
	for joint, weight := range ideal {
		moved += max(0, weight-after[joint])
	}
	if had && !have { // the split joints grew: counted before they did
		require.LessOrEqual(t, moved/whole, all+64*eps, "reported")
	} else {
		require.InDelta(t, moved/whole, all, 64*eps, "reported")
	}
	if !d.hasRoomForHats() {
		return
	}

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
			try(i+1, slots-len(way), moved+m)
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

// waysToDo lists a split joint's weight by its basis and by the simpler ones.
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
			if w[i] > 0 { // times weight it may underflow; its slot stays
				way = append(way, Influence{s.Segments[i], weight * w[i]})
			}
		}
		ways = append(ways, way)
	}
	return ways
}

func TestReplaceMovesLeast(t *testing.T) { rapid.Check(t, replaceMovesLeast) }
func FuzzReplaceMovesLeast(f *testing.F) { f.Fuzz(rapid.MakeFuzz(replaceMovesLeast)) }

// Neighbouring vertices are alike, and what becomes of them is, too: without slots
// for two segments, as well. The vertex is one of the hip, its thigh split: hips,
// spine and the other thigh hold it with it. Of the least two parts, segment or spine,
// now one is the smaller, now the other. On a way from vertex to vertex a jump is
// looked for by halving, to the side of the greater difference.
func replaceIsContinuous(t *rapid.T) {
	const (
		halvings  = 30
		intervals = 100
		// Slopes: the place, in segments, 6; the ramp, 3/2, in the numerator and
		// twice in the denominator, which is over a quarter of the weight; the
		// count of a joint, 6, under the hips' and the other thigh's.
		steepest = 6 * 1.5 * 3 * 4
	)
	segments := rapid.IntRange(2, 6).Draw(t, "segments")
	var u, spine [2]float64
	for i := range u {
		u[i] = rapid.Float64Range(0, 1).Draw(t, "u")
		spine[i] = rapid.Float64Range(0, 0.02).Draw(t, "spine")
	}
	at := func(x float64) (weights [30]float64) {
		spine := spine[0] + (spine[1]-spine[0])*x
		vertex := []Influence{{1, 0.3}, {5, spine}, {3, 0.2 - spine}, {2, 0.5}}
		got, _ := Replace(nil, vertex, []Split{thigh(2, u[0]+(u[1]-u[0])*x, segments)}, Hat, 4)
		for _, v := range got {
			weights[v.Joint] = v.Weight
		}
		return weights
	}
	apart := func(a, b [30]float64) (most float64) {
		for i := range a {
			most = max(most, math.Abs(a[i]-b[i]))
		}
		return most
	}
	for i := range intervals {
		low, high := float64(i)/intervals, float64(i+1)/intervals
		before, after := at(low), at(high)
		for range halvings {
			middle := (low + high) / 2
			if between := at(middle); apart(before, between) > apart(between, after) {
				high, after = middle, between
			} else {
				low, before = middle, between
			}
		}
		require.LessOrEqual(t, apart(before, after), steepest*(high-low)+64*eps, "at %v", low)
	}
}

func TestReplaceIsContinuous(t *testing.T) { rapid.Check(t, replaceIsContinuous) }
func FuzzReplaceIsContinuous(f *testing.F) { f.Fuzz(rapid.MakeFuzz(replaceIsContinuous)) }
