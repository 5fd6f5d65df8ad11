package skin

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Joints of the tables: 1 pelvis, 2 left thigh, 3 right thigh, 4 hand, 5 to 12
// others. Segments are numbered from ten times their joint.
func thigh(joint int, u float64, segments int) Split {
	s := Split{Joint: joint, U: u}
	for i := range segments {
		s.Segments = append(s.Segments, 10*joint+i)
	}
	return s
}

func TestReplace(t *testing.T) {
	tests := []struct {
		name    string
		vertex  []Influence
		splits  []Split
		basis   Basis
		most    int
		want    []Influence
		dropped float64
	}{
		{
			name:   "no influence",
			splits: []Split{thigh(2, 0.5, 3)}, most: 4,
		},
		{
			name:   "no split",
			vertex: []Influence{{1, 0.3}, {4, 0.7}}, most: 4,
			want: []Influence{{1, 0.3}, {4, 0.7}},
		},
		{
			name:   "not this joint's vertex",
			vertex: []Influence{{1, 1}}, splits: []Split{thigh(2, 0.5, 3)}, most: 4,
			want: []Influence{{1, 1}},
		},
		{
			name:   "in the joint's place",
			vertex: []Influence{{1, 0.25}, {2, 0.5}, {4, 0.25}}, splits: []Split{thigh(2, 0.5, 2)}, most: 4,
			want: []Influence{{1, 0.25}, {20, 0.25}, {21, 0.25}, {4, 0.25}},
		},
		{
			name:   "at the joint only the first segment",
			vertex: []Influence{{2, 1}}, splits: []Split{thigh(2, 0, 4)}, basis: Cubic, most: 4,
			want: []Influence{{20, 1}},
		},
		{
			name:   "past the end only the last",
			vertex: []Influence{{2, 1}}, splits: []Split{thigh(2, 1.5, 4)}, basis: Cubic, most: 4,
			want: []Influence{{23, 1}},
		},
		{
			name:   "cubic needs four",
			vertex: []Influence{{2, 1}}, splits: []Split{thigh(2, 0.5, 6)}, basis: Cubic, most: 4,
			want: []Influence{{21, 1. / 48}, {22, 23. / 48}, {23, 23. / 48}, {24, 1. / 48}},
		},
		{
			name:   "cubic has three: quadratic",
			vertex: []Influence{{1, 0.5}, {2, 0.5}}, splits: []Split{thigh(2, 2.25/5, 6)}, basis: Cubic, most: 4,
			want:    []Influence{{1, 0.5}, {21, 1. / 64}, {22, 11. / 32}, {23, 9. / 64}},
			dropped: 0.5 * (27./384 - 1./32 + (4-3*9./16*(2-0.75))/6 - 9./32 + 1./384),
		},
		{
			name:   "quadratic has two: hat",
			vertex: []Influence{{5, 0.25}, {6, 0.25}, {2, 0.5}}, splits: []Split{thigh(2, 0.5, 3)}, most: 4,
			want:    []Influence{{5, 0.25}, {6, 0.25}, {21, 0.5}},
			dropped: 0.5 * 0.25,
		},
		{
			name:   "one slot: the segment that has most",
			vertex: []Influence{{5, 0.25}, {6, 0.125}, {7, 0.125}, {2, 0.5}}, splits: []Split{thigh(2, 0.375, 2)}, most: 4,
			want:    []Influence{{5, 0.25}, {6, 0.125}, {7, 0.125}, {20, 0.5}},
			dropped: 0.5 * 0.375,
		},
		{
			name:   "half way between two it is the first",
			vertex: []Influence{{2, 1}}, splits: []Split{thigh(2, 0.5, 2)}, most: 1,
			want:    []Influence{{20, 1}},
			dropped: 0.5,
		},
		{
			name:   "crotch: the heavier thigh gets the spare slot",
			vertex: []Influence{{1, 0.5}, {2, 0.125}, {3, 0.375}},
			splits: []Split{thigh(2, 0.25, 2), thigh(3, 0.25, 2)}, most: 4,
			want:    []Influence{{1, 0.5}, {20, 0.125}, {30, 0.375 * 0.75}, {31, 0.375 * 0.25}},
			dropped: 0.125 * 0.25,
		},
		{
			name:   "crotch: with eight slots nothing gives",
			vertex: []Influence{{1, 0.5}, {2, 0.125}, {3, 0.375}},
			splits: []Split{thigh(2, 0.5, 3), thigh(3, 0.5, 3)}, most: 8,
			want: []Influence{{1, 0.5}, {20, 1. / 64}, {21, 6. / 64}, {22, 1. / 64}, {30, 3. / 64}, {31, 18. / 64}, {32, 3. / 64}},
		},
		{
			name:   "slots go where they move least in all, though the first of them does nothing alone",
			vertex: []Influence{{2, 0.75}, {3, 0.25}},
			// One slot more does not help the first at its node, two do, by
			// 0.75/4; one does help the second, by 0.25·0.3.
			splits: []Split{thigh(2, 0.5, 3), thigh(3, 0.3, 2)}, most: 4,
			want:    []Influence{{20, 0.75 / 8}, {21, 0.75 * 6 / 8}, {22, 0.75 / 8}, {30, 0.25}},
			dropped: 0.25 * 0.3,
		},
		{
			name:   "a joint twice is one",
			vertex: []Influence{{2, 0.25}, {1, 0.5}, {2, 0.25}}, splits: []Split{thigh(2, 0.5, 2)}, most: 4,
			want: []Influence{{20, 0.25}, {21, 0.25}, {1, 0.5}},
		},
		{
			name:   "a joint twice that is not split",
			vertex: []Influence{{1, 0.25}, {2, 0.5}, {1, 0.25}}, splits: []Split{thigh(2, 0, 2)}, most: 4,
			want: []Influence{{1, 0.5}, {20, 0.5}},
		},
		{
			name:   "zero, negative and NaN weights are not kept",
			vertex: []Influence{{1, 0}, {5, math.NaN()}, {2, 1}, {6, -0.25}}, splits: []Split{thigh(2, 0.5, 2)}, most: 2,
			want: []Influence{{20, 0.5}, {21, 0.5}},
		},
		{
			name:   "a sum that is not one stays",
			vertex: []Influence{{1, 1}, {2, 2}}, splits: []Split{thigh(2, 0.25, 2)}, most: 2,
			want:    []Influence{{1, 1}, {20, 2}},
			dropped: 2. / 3 * 0.25,
		},
		{
			name:   "more than most to begin with",
			vertex: []Influence{{5, 0.0625}, {6, 0.25}, {2, 0.4375}, {7, 0.0625}, {8, 0.125}, {9, 0.0625}}, most: 4,
			splits: []Split{thigh(2, 0, 2)},
			want:   []Influence{{5, 0.0625 / 0.875}, {6, 0.25 / 0.875}, {20, 0.4375 / 0.875}, {8, 0.125 / 0.875}},
			// of the three smallest, the last two go
			dropped: 0.125,
		},
		{
			name:   "a split joint may be the smallest",
			vertex: []Influence{{5, 0.5}, {2, 0.125}, {6, 0.375}}, splits: []Split{thigh(2, 0.5, 2)}, most: 2,
			want:    []Influence{{5, 0.5 / 0.875}, {6, 0.375 / 0.875}},
			dropped: 0.125,
		},
		{
			name:   "dropped and moved add up",
			vertex: []Influence{{5, 0.25}, {2, 0.75}, {6, 0.25}}, splits: []Split{thigh(2, 0.25, 2)}, most: 2,
			want:    []Influence{{5, 0.3125}, {20, 0.9375}},
			dropped: 0.2 + 0.8*0.75*0.25,
		},
		{
			name:   "the joint is one of its segments",
			vertex: []Influence{{1, 0.5}, {2, 0.5}}, splits: []Split{{Joint: 2, Segments: []int{2, 20}, U: 0.25}}, most: 4,
			want: []Influence{{1, 0.5}, {2, 0.375}, {20, 0.125}},
		},
		{
			name:   "a segment that holds the vertex already",
			vertex: []Influence{{20, 0.5}, {2, 0.5}}, splits: []Split{thigh(2, 0.25, 2)}, most: 4,
			want: []Influence{{20, 0.875}, {21, 0.125}},
		},
		{
			name:   "a split without segments",
			vertex: []Influence{{2, 1}}, splits: []Split{{Joint: 2, U: 0.5}}, most: 4,
			want: []Influence{{2, 1}},
		},
		{
			name:   "no place along the bone",
			vertex: []Influence{{2, 1}}, splits: []Split{thigh(2, math.NaN(), 3)}, most: 4,
			want: []Influence{{2, 1}},
		},
		{
			name:   "two splits of a joint: the first",
			vertex: []Influence{{2, 1}}, splits: []Split{thigh(2, 0, 2), thigh(2, 1, 2)}, most: 4,
			want: []Influence{{20, 1}},
		},
		{
			name:   "segments are not split in their turn",
			vertex: []Influence{{2, 1}}, splits: []Split{{Joint: 2, Segments: []int{3}}, thigh(3, 0, 2)}, most: 4,
			want: []Influence{{3, 1}},
		},
		{
			name:   "most below one is one",
			vertex: []Influence{{1, 0.25}, {2, 0.75}}, splits: []Split{thigh(2, 0, 2)}, most: -2,
			want:    []Influence{{20, 1}},
			dropped: 0.25,
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			before := slices.Clone(test.vertex)
			got, dropped := Replace(nil, test.vertex, test.splits, test.basis, test.most)
			if len(before) > 0 && !slices.ContainsFunc(before, func(v Influence) bool { return math.IsNaN(v.Weight) }) {
				require.Equal(t, before, test.vertex, "the input is not written to")
			}
			require.Len(t, got, len(test.want), "%v", got)
			for i, want := range test.want {
				require.Equal(t, want.Joint, got[i].Joint, "%v", got)
				require.InDelta(t, want.Weight, got[i].Weight, 8*eps, "%v", got)
			}
			require.InDelta(t, test.dropped, dropped, 8*eps)

			// The same over its own input and over something longer.
			own := append(make([]Influence, 0, 16), before...)
			got2, _ := Replace(own, own, test.splits, test.basis, test.most)
			require.Equal(t, len(got), len(got2))
			for i := range got {
				require.Equal(t, got[i], got2[i])
			}
			got2, _ = Replace(make([]Influence, 20), before, test.splits, test.basis, test.most)
			require.Len(t, got2, len(got), "dst is overwritten")
		})
	}
}

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
			most:  rapid.SampledFrom([]int{4, 4, 8, 1, 2, 3}).Draw(t, "most"),
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
	got, dropped := Replace(nil, d.vertex, d.splits, d.basis, d.most)
	before, after := byJoint(d.vertex), byJoint(got)

	require.LessOrEqual(t, len(got), d.most)
	require.Len(t, after, len(got), "no joint twice, no zero weight")
	require.True(t, dropped >= 0 && dropped <= 1, "%v", dropped)
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
	got, dropped := Replace(nil, d.vertex, d.splits, d.basis, d.most)
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
	require.InDelta(t, moved/whole, dropped, 64*eps, "reported")

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

// Short of slots but with two or more a joint's segments still turn by u of its
// twist on average, whatever the basis.
func TestReplaceFallbackKeepsMeanTwist(t *testing.T) {
	for _, b := range bases {
		for n := 2; n <= 6; n++ {
			for most := 2; most <= 4; most++ {
				for k := range 101 {
					u := float64(k) / 100
					got, _ := Replace(nil, []Influence{{1, 1}}, []Split{thigh(1, u, n)}, b, most)
					var mean float64
					for _, v := range got {
						mean += v.Weight * float64(v.Joint-10) / float64(n-1)
					}
					require.InDelta(t, u, mean, 4*eps, "%v, %d segments, %d slots", b, n, most)
				}
			}
		}
	}
}

func TestReplaceAllocatesNothing(t *testing.T) {
	vertex := []Influence{{5, 0.1}, {2, 0.2}, {6, 0.1}, {3, 0.2}, {7, 0.1}, {8, 0.1}, {9, 0.1}, {4, 0.1}}
	splits := []Split{thigh(2, 0.4, 4), thigh(3, 0.6, 4), thigh(4, 0.2, 4)}
	dst := make([]Influence, 0, 8)
	for _, most := range []int{4, 8} {
		for _, influences := range []int{1, 3, 4, 8} {
			require.Zero(t, testing.AllocsPerRun(100, func() {
				dst, _ = Replace(dst[:0], vertex[:influences], splits, Cubic, most)
			}), "%d influences into %d", influences, most)
		}
	}
}

func ExampleReplace() {
	// A vertex on the thigh's upper quarter, next to the pelvis.
	vertex := []Influence{{Joint: 1, Weight: 0.25}, {Joint: 2, Weight: 0.75}}
	thigh := Split{Joint: 2, Segments: []int{20, 21, 22}, U: 0.35}
	for _, most := range []int{4, 3, 2} {
		replaced, dropped := Replace(nil, vertex, []Split{thigh}, Quadratic, most)
		fmt.Printf("%d:", most)
		for _, v := range replaced {
			fmt.Printf(" %d %.3f", v.Joint, v.Weight)
		}
		fmt.Printf(", dropped %.3f\n", dropped)
	}
	// Output:
	// 4: 1 0.250 20 0.240 21 0.495 22 0.015, dropped 0.000
	// 3: 1 0.250 20 0.225 21 0.525, dropped 0.030
	// 2: 1 0.250 21 0.750, dropped 0.255
}

func BenchmarkReplace(b *testing.B) {
	dst := make([]Influence, 0, 8)
	for name, vertex := range map[string][]Influence{
		"fits":  {{1, 0.25}, {2, 0.75}},
		"tight": {{1, 0.4}, {2, 0.3}, {3, 0.3}},
	} {
		splits := []Split{thigh(2, 0.4, 4), thigh(3, 0.6, 4)}
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				dst, _ = Replace(dst[:0], vertex, splits, Quadratic, 4)
			}
		})
	}
}
