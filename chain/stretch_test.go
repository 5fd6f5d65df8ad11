package chain_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// sumError is what lengths may miss their sum by, of the whole: 32 segments'
// roundings are 32 eps = 7e-15.
const sumError = 1e-12

func stretcher(t require.TestingT, l chain.Limb, spec chain.Stretch) *chain.Stretcher {
	s, err := chain.NewStretcher(l, spec)
	require.NoError(t, err)
	return s
}

// sum is the segments' lengths added up, in a bone length long.
func sum(pieces []chain.Stretched, length float64) (total float64) {
	for _, p := range pieces {
		total += p.Along * length / float64(len(pieces))
	}
	return total
}

// joined requires that each segment begins where the one before it ends, and
// that the last ends at the end.
func joined(t require.TestingT, pieces []chain.Stretched, length, end float64) {
	at := 0.
	for _, p := range pieces {
		require.InDelta(t, at, p.At, sumError*length)
		at = p.At + p.Along*length/float64(len(pieces))
	}
	require.InDelta(t, end, at, sumError*end)
}

func TestStretchEqually(t *testing.T) {
	s := stretcher(t, chain.Limb{Length: 0.4, Segments: 4}, chain.Stretch{})
	dst := make([]chain.Stretched, 4)
	got := s.ByRatio(dst, 1.21)
	require.Equal(t, 1.21, got.Ratio)
	require.InDelta(t, 0.484, got.Metres, 1e-15)
	require.Zero(t, got.Short)
	for i, p := range dst {
		require.InDelta(t, float64(i)*0.121, p.At, 1e-15)
		require.InDelta(t, 1.21, p.Along, 1e-15)
		require.InDelta(t, 1/1.1, p.Across, 1e-15)
	}
}

func TestStretchByShares(t *testing.T) {
	section := 0.
	s := stretcher(t, chain.Limb{Length: 1, Segments: 2}, chain.Stretch{Shares: []float64{0.25, 0.75}, Exponent: &section})
	dst := make([]chain.Stretched, 2)
	s.ByRatio(dst, 1.4)
	require.InDelta(t, 1.2, dst[0].Along, 1e-15) // 1 + 2·0.25·0.4
	require.InDelta(t, 1.6, dst[1].Along, 1e-15)
	require.InDelta(t, 0.6, dst[1].At, 1e-15)
	require.Equal(t, 1., dst[1].Across, "an exponent of 0 is not the default")

	whole := 1.
	s = stretcher(t, chain.Limb{Length: 1, Segments: 2}, chain.Stretch{Exponent: &whole})
	s.ByRatio(dst, 1.25)
	require.InDelta(t, 0.8, dst[0].Across, 1e-15)
}

// A target in reach is touched to the bit; out of reach the bone goes as far as
// it may and says what is missing.
func TestStretchToTarget(t *testing.T) {
	s := stretcher(t, chain.Limb{Length: 0.4, Segments: 3}, chain.Stretch{Least: 0.7, Most: 1.5})
	dst := make([]chain.Stretched, 3)
	for _, distance := range []float64{0.29, 0.3, 0.4, 0.41, 0.5999} {
		got := s.ByDistance(dst, distance)
		require.Equal(t, distance, got.Metres)
		require.Zero(t, got.Short)
		joined(t, dst, 0.4, distance)
	}
	got := s.ByDistance(dst, 0.75)
	require.InDelta(t, 0.15, got.Short, 1e-15)
	require.InDelta(t, 0.6, got.Metres, 1e-15)
	require.Equal(t, 1.5, got.Ratio)
	joined(t, dst, 0.4, 0.6)
	got = s.ByDistance(dst, 0.2)
	require.InDelta(t, -0.08, got.Short, 1e-15)
	joined(t, dst, 0.4, 0.28)
}

func TestStretchSegmentBySegment(t *testing.T) {
	s := stretcher(t, chain.Limb{Length: 3, Segments: 3}, chain.Stretch{})
	dst := make([]chain.Stretched, 3)
	got := s.ByRatios(dst, []float64{0.5, 1, 2.25})
	require.InDelta(t, 1.25, got.Ratio, 1e-15)
	require.InDelta(t, 3.75, got.Metres, 1e-15)
	require.Equal(t, []float64{0, 0.5, 1.5}, []float64{dst[0].At, dst[1].At, dst[2].At})
	require.InDelta(t, 1/1.5, dst[2].Across, 1e-15)

	got = s.ByRatios(dst, []float64{3, 3, 3}) // 9 where 6 is the most
	require.InDelta(t, 3, got.Short, 1e-14)
	joined(t, dst, 3, 6)
	got = s.ByRatios(dst, []float64{-1, 0, 1}) // 0.125 each, and 1: 1.25 where 1.5 is the least
	require.InDelta(t, -0.25, got.Short, 1e-14)
	joined(t, dst, 3, 1.5)
	require.InDelta(t, 0.125*1.2, dst[0].Along, 1e-15)
	for _, ratio := range []float64{math.Inf(1), math.MaxFloat64, 0, math.Inf(-1)} {
		got = s.ByRatios(dst, []float64{ratio, ratio, ratio})
		joined(t, dst, 3, got.Metres)
	}
}

// Shares that would use a segment up are drawn towards equal ones: the segment
// keeps a quarter of an equal part, and the sum holds.
func TestSquashUsesUpNoSegment(t *testing.T) {
	s := stretcher(t, chain.Limb{Length: 1, Segments: 2}, chain.Stretch{Shares: []float64{1, 0}})
	dst := make([]chain.Stretched, 2)
	s.ByRatio(dst, 0.9)
	require.InDelta(t, 0.8, dst[0].Along, 1e-15, "as the shares say")
	s.ByRatio(dst, 0.5)
	require.InDelta(t, 0.125, dst[0].Along, 1e-15)
	require.InDelta(t, 0.875, dst[1].Along, 1e-15)
	joined(t, dst, 1, 0.5)
}

func TestStretchNaN(t *testing.T) {
	s := stretcher(t, chain.Limb{Length: 1}, chain.Stretch{})
	dst := make([]chain.Stretched, 2)
	for _, got := range []chain.Length{s.ByRatio(dst, math.NaN()), s.ByDistance(dst, math.NaN()), s.ByRatios(dst, []float64{1, math.NaN()})} {
		require.True(t, math.IsNaN(got.Ratio) && math.IsNaN(got.Metres) && math.IsNaN(dst[1].Along))
	}
	require.Panics(t, func() { s.ByRatio(dst[:1], 1) })
	require.Panics(t, func() { s.ByRatios(dst, []float64{1}) })
}

func stretchOf(r *rapid.T) (chain.Limb, chain.Stretch) {
	n := rapid.IntRange(chain.MinSegments, chain.MaxSegments).Draw(r, "segments")
	l := chain.Limb{Length: rapid.Float64Range(1e-3, 1e3).Draw(r, "length"), Segments: n}
	spec := chain.Stretch{Least: rapid.Float64Range(0.01, 1).Draw(r, "least"), Most: rapid.Float64Range(1, 100).Draw(r, "most")}
	if rapid.Bool().Draw(r, "shared") {
		spec.Shares = rapid.SliceOfN(rapid.OneOf(rapid.Float64Range(0, 1), rapid.Just(0.)), n, n).Draw(r, "shares")
		total := 0.
		for _, k := range spec.Shares {
			total += k
		}
		if total < 1e-3 {
			spec.Shares[0]++
			total++
		}
		for i := range spec.Shares {
			spec.Shares[i] /= total
		}
	}
	if rapid.Bool().Draw(r, "own exponent") {
		e := rapid.Float64Range(0, 1).Draw(r, "exponent")
		spec.Exponent = &e
	}
	return l, spec
}

func stretchProperties(r *rapid.T) {
	l, spec := stretchOf(r)
	s := stretcher(r, l, spec)
	dst, more := make([]chain.Stretched, l.Segments), make([]chain.Stretched, l.Segments)

	// Rest is exact.
	require.Equal(r, chain.Length{Ratio: 1, Metres: l.Length}, s.ByRatio(dst, 1))
	for i, p := range dst {
		require.Equal(r, chain.Stretched{At: l.Length * float64(i) / float64(l.Segments), Along: 1, Across: 1}, p)
	}
	require.Equal(r, chain.Length{Ratio: 1, Metres: l.Length}, s.ByDistance(more, l.Length))
	require.Equal(r, dst, more)
	ones := make([]float64, l.Segments)
	for i := range ones {
		ones[i] = 1
	}
	require.Equal(r, chain.Length{Ratio: 1, Metres: l.Length}, s.ByRatios(more, ones))
	require.Equal(r, dst, more)

	// The lengths add up, and no segment is used up.
	ratio := rapid.Float64Range(-1, 120).Draw(r, "ratio")
	got := s.ByRatio(dst, ratio)
	require.Equal(r, got.Ratio*l.Length, got.Metres)
	require.InDelta(r, got.Metres, sum(dst, l.Length), sumError*got.Metres)
	joined(r, dst, l.Length, got.Metres)
	for _, p := range dst {
		require.GreaterOrEqual(r, p.Along, 0.2499*min(got.Ratio, 1))
	}

	// A longer bone has no shorter or thicker segment.
	after := s.ByRatio(more, ratio+rapid.Float64Range(0, 2).Draw(r, "more"))
	require.GreaterOrEqual(r, after.Ratio, got.Ratio)
	for i := range dst {
		require.GreaterOrEqual(r, more[i].Along, dst[i].Along*(1-1e-13))
		require.LessOrEqual(r, more[i].Across, dst[i].Across*(1+1e-13))
		require.GreaterOrEqual(r, more[i].At, dst[i].At*(1-sumError))
	}
}

func TestStretchProperties(t *testing.T) { rapid.Check(t, stretchProperties) }

func FuzzStretch(f *testing.F) { f.Fuzz(rapid.MakeFuzz(stretchProperties)) }

func TestStretchErrors(t *testing.T) {
	number := func(x float64) *float64 { return &x }
	nan := math.NaN()
	arm := chain.Limb{Name: "arm", Length: 1, Segments: 2}
	for message, c := range map[string]struct {
		limb chain.Limb
		spec chain.Stretch
	}{
		`chain: limb "arm": length is 0, expected a finite number of metres, more than 0: a stretch is a part of it`: {limb: chain.Limb{Name: "arm"}},
		`chain: limb "arm": segments is 1, expected 2 to 32`:                                                         {limb: chain.Limb{Name: "arm", Segments: 1}},
		`chain: limb "arm": stretch: least is 1.1, expected more than 0 and at most 1`:                               {arm, chain.Stretch{Least: 1.1}},
		`chain: limb "arm": stretch: least is NaN, expected more than 0 and at most 1`:                               {arm, chain.Stretch{Least: nan}},
		`chain: limb "arm": stretch: most is 0.9, expected a finite ratio of 1 or more`:                              {arm, chain.Stretch{Most: 0.9}},
		`chain: limb "arm": stretch: most is +Inf, expected a finite ratio of 1 or more`:                             {arm, chain.Stretch{Most: math.Inf(1)}},
		`chain: limb "arm": stretch: exponent is -1, expected 0 to 1`:                                                {arm, chain.Stretch{Exponent: number(-1)}},
		`chain: limb "arm": stretch: shares has 3 numbers, expected 2, one for each segment`:                         {arm, chain.Stretch{Shares: []float64{0, 0, 1}}},
		`chain: limb "arm": stretch: shares[1] is NaN, expected 0 to 1`:                                              {arm, chain.Stretch{Shares: []float64{0, nan}}},
		`chain: limb "arm": stretch: shares sum to 0.75, expected 1`:                                                 {arm, chain.Stretch{Shares: []float64{0.25, 0.5}}},
	} {
		_, err := chain.NewStretcher(c.limb, c.spec)
		require.EqualError(t, err, message)
	}
}

func TestStretchAllocatesNothing(t *testing.T) {
	s := stretcher(t, chain.Limb{Length: 1, Segments: 4}, chain.Stretch{Shares: []float64{0, 0.5, 0.5, 0}})
	dst, ratios := make([]chain.Stretched, 4), []float64{1, 2, 1, 1}
	require.Zero(t, testing.AllocsPerRun(100, func() {
		s.ByRatio(dst, 0.6)
		s.ByDistance(dst, 1.2)
		s.ByRatios(dst, ratios)
	}))
}
