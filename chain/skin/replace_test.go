package skin

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
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
		name   string
		vertex []Influence
		splits []Split
		basis  Basis
		most   int
		want   []Influence
		moved  float64
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
			want:  []Influence{{1, 0.5}, {21, 1. / 64}, {22, 11. / 32}, {23, 9. / 64}},
			moved: 0.5 * (27./384 - 1./32 + (4-3*9./16*(2-0.75))/6 - 9./32 + 1./384),
		},
		{
			name:   "quadratic has two: hat",
			vertex: []Influence{{5, 0.25}, {6, 0.25}, {2, 0.5}}, splits: []Split{thigh(2, 0.5, 3)}, most: 4,
			want:  []Influence{{5, 0.25}, {6, 0.25}, {21, 0.5}},
			moved: 0.5 * 0.25,
		},
		{
			name:   "one slot: the segment that has most",
			vertex: []Influence{{5, 0.25}, {6, 0.125}, {7, 0.125}, {2, 0.5}}, splits: []Split{thigh(2, 0.375, 2)}, most: 4,
			want:  []Influence{{5, 0.25}, {6, 0.125}, {7, 0.125}, {20, 0.5}},
			moved: 0.5 * 0.375,
		},
		{
			name:   "half way between two it is the first",
			vertex: []Influence{{2, 1}}, splits: []Split{thigh(2, 0.5, 2)}, most: 1,
			want:  []Influence{{20, 1}},
			moved: 0.5,
		},
		{
			name:   "crotch: the heavier thigh gets the spare slot",
			vertex: []Influence{{1, 0.5}, {2, 0.125}, {3, 0.375}},
			splits: []Split{thigh(2, 0.25, 2), thigh(3, 0.25, 2)}, most: 4,
			want:  []Influence{{1, 0.5}, {20, 0.125}, {30, 0.375 * 0.75}, {31, 0.375 * 0.25}},
			moved: 0.125 * 0.25,
		},
		{
			name:   "crotch: with eight slots nothing gives",
			vertex: []Influence{{1, 0.5}, {2, 0.125}, {3, 0.375}},
			splits: []Split{thigh(2, 0.5, 3), thigh(3, 0.5, 3)}, most: 8,
			want: []Influence{{1, 0.5}, {20, 1. / 64}, {21, 6. / 64}, {22, 1. / 64}, {30, 3. / 64}, {31, 18. / 64}, {32, 3. / 64}},
		},
		{
			name:   "two segments each come before a smoother basis for one",
			vertex: []Influence{{2, 0.75}, {3, 0.25}},
			// One slot more than the hat's does not help the first at its node.
			splits: []Split{thigh(2, 0.5, 3), thigh(3, 0.3, 2)}, most: 4,
			want:  []Influence{{21, 0.75}, {30, 0.25 * 0.7}, {31, 0.25 * 0.3}},
			moved: 0.75 / 4,
		},
		{
			name:   "no slot for a second segment: a slight joint goes, and what counts little more loses",
			vertex: []Influence{{1, 0.3}, {5, 0.02}, {6, 0.13}, {2, 0.55}},
			// The joint counts 0.12, the lesser segment 0.1375.
			splits: []Split{thigh(2, 0.25, 2)}, most: 4,
			want: []Influence{
				{1, 0.3 * 0.45 / 0.43}, {6, 0.13 * 0.45 / 0.43},
				{20, 0.55 * 0.4125 / (0.4125 + 0.02625)}, {21, 0.55 * 0.02625 / (0.4125 + 0.02625)},
			},
			moved: 0.02 + (0.1375 - 0.55*0.02625/(0.4125+0.02625)),
		},
		{
			name:   "crotch: the spine goes before either thigh steps",
			vertex: []Influence{{1, 0.25}, {5, 1. / 64}, {2, 0.5}, {3, 15. / 64}},
			splits: []Split{thigh(2, 0.5, 2), thigh(3, 0, 2)}, most: 4,
			want:  []Influence{{1, 17. / 64}, {20, 0.25}, {21, 0.25}, {30, 15. / 64}},
			moved: 1. / 64,
		},
		{
			name:   "the last joint that is not split goes to those that are",
			vertex: []Influence{{5, 1. / 16}, {2, 15. / 32}, {3, 15. / 32}},
			splits: []Split{thigh(2, 0.5, 2), thigh(3, 0, 2)}, most: 3,
			want:  []Influence{{5, 1. / 16}, {20, 15. / 32}, {30, 15. / 32}},
			moved: 15. / 64,
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
			want:  []Influence{{1, 1}, {20, 2}},
			moved: 2. / 3 * 0.25,
		},
		{
			name:   "more than most to begin with",
			vertex: []Influence{{5, 0.0625}, {6, 0.25}, {2, 0.4375}, {7, 0.0625}, {8, 0.125}, {9, 0.0625}}, most: 4,
			splits: []Split{thigh(2, 0, 2)},
			want:   []Influence{{5, 0.0625 / 0.875}, {6, 0.25 / 0.875}, {20, 0.4375 / 0.875}, {8, 0.125 / 0.875}},
			// of the three smallest, the last two go
			moved: 0.125,
		},
		{
			name:   "a split joint may be the smallest",
			vertex: []Influence{{5, 0.5}, {2, 0.125}, {6, 0.375}}, splits: []Split{thigh(2, 0.5, 2)}, most: 2,
			want:  []Influence{{5, 0.5 / 0.875}, {6, 0.375 / 0.875}},
			moved: 0.125,
		},
		{
			name:   "moved from joints and segments adds up",
			vertex: []Influence{{5, 0.25}, {2, 0.75}, {6, 0.25}}, splits: []Split{thigh(2, 0.25, 2)}, most: 2,
			want:  []Influence{{5, 0.3125}, {20, 0.9375}},
			moved: 0.2 + 0.8*0.75*0.25,
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
			want:  []Influence{{20, 1}},
			moved: 0.25,
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			before := slices.Clone(test.vertex)
			got, moved := Replace(nil, test.vertex, test.splits, test.basis, test.most)
			if len(before) > 0 && !slices.ContainsFunc(before, func(v Influence) bool { return math.IsNaN(v.Weight) }) {
				require.Equal(t, before, test.vertex, "the input is not written to")
			}
			require.Len(t, got, len(test.want), "%v", got)
			for i, want := range test.want {
				require.Equal(t, want.Joint, got[i].Joint, "%v", got)
				require.InDelta(t, want.Weight, got[i].Weight, 8*eps, "%v", got)
			}
			require.InDelta(t, test.moved, moved, 8*eps)

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

// Three sets are as good as two, only not without allocating: of twelve slots
// two go to the joints that are not split, four to the heaviest split joint and
// two to each of the others, which move 1/24 of their weight to the hat.
func TestReplaceIntoTwelve(t *testing.T) {
	vertex := []Influence{{0, 0.125}, {2, 0.125}, {3, 0.375}, {4, 0.125}, {5, 0.125}, {1, 0.125}}
	var splits []Split
	for joint := 2; joint <= 5; joint++ {
		splits = append(splits, thigh(joint, 0.5, 6))
	}
	got, moved := Replace(nil, vertex, splits, Cubic, 12)
	require.Len(t, got, 12)
	require.InDelta(t, 0.375/24, moved, 8*eps)
	require.Equal(t, []int{0, 22, 23, 31, 32, 33, 34, 42, 43, 52, 53, 1}, joints(got))
}

func joints(vertex []Influence) []int {
	var out []int
	for _, v := range vertex {
		out = append(out, v.Joint)
	}
	return out
}

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
	if raceDetector {
		t.Skip("allocations differ under the race detector")
	}
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
