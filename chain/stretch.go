package chain

import (
	"math"
	"slices"
)

// Stretch says how a bone's segments take a change of its length. The zero
// value shares it equally, keeps the volume and allows half to double.
type Stretch struct {
	// Shares are the part of a change of length that each segment takes, 0 to
	// 1, summing to 1; nil means equal parts.
	Shares []float64
	// Exponent e scales a segment's section by ratio^-e across the axis, in
	// both directions: 1/2 keeps the volume, 0 the section. nil means 1/2.
	Exponent *float64
	// Least and Most bound the ratio of the whole bone's length to that at
	// rest; 0 means LeastStretch and MostStretch.
	Least, Most float64
}

const (
	// LeastStretch and MostStretch bound a bone that does not say: half and
	// double, which leave 1.41 and 0.71 of the radius. 0.71 is what linear
	// blending leaves midway between two segments a quarter turn apart, about
	// the most that skin bears before it wants modelling (common practice, no
	// source).
	LeastStretch, MostStretch = 0.5, 2.

	defaultExponent = 0.5
	// MaxShareSumError is how far from 1 shares may sum, as numbers typed with nine
	// digits do; the difference is divided out.
	MaxShareSumError = 1e-8
	// floor is the part that a segment keeps, at least, of the length it would
	// have if all shared a squash equally.
	floor = 0.25
)

// Stretched is one segment of a bone whose length has changed.
type Stretched struct {
	At     float64 // metres from the joint to the segment's root, along the axis
	Along  float64 // scale along the axis, of rest
	Across float64 // scale across it
}

// Length is what became of a bone's length.
type Length struct {
	Ratio  float64 // of the whole bone to rest, within the limits
	Metres float64 // of the whole bone: where its last segment ends
	// Short is by how much a target is out of reach, in metres: positive where
	// it lies beyond the longest the bone can be, negative where it lies nearer
	// than the shortest. 0 in reach.
	Short float64
}

// Stretcher changes the length of one limb's bone. It is read only, safe for
// concurrent use, and allocates nothing when it solves. [NewStretcher] makes it; the
// zero value is of no use.
//
// Segment i of n stands i/n of the way along the bone at rest and is length/n
// long. When the bone is lambda times as long as at rest it has, with its share
// k_i of the change,
//
//	lambda_i = 1 + n k_i (lambda - 1)
//
// of its own length, and lambda_i^-e of its section's size. Its root stands
// where the segment before it ends, so the lengths add up to the bone's.
//
// A squash that is shared unequally could use up a segment. No segment gets
// shorter than a quarter of what equal shares would leave it, lambda/4: where
// the shares ask for more, all of them are drawn towards equal ones, just as far
// as that takes. The sum stays what it is, and every length goes on falling with
// lambda.
type Stretcher struct {
	length   float64
	excess   []float64 // n k_i - 1
	before   []float64 // the sum of the excess of the segments before, over n
	greatest float64   // excess
	exponent float64
	least    float64
	most     float64
}

// NewStretcher checks the specification against its limb, which gives name,
// length and number of segments. The error names the limb and the field.
func NewStretcher(l Limb, spec Stretch) (*Stretcher, error) {
	n, err := l.count()
	if err != nil {
		return nil, err
	}
	if !(l.Length > 0 && l.Length*0 == 0) {
		return nil, l.errorf("length is %g, expected a finite number of metres, more than 0: a stretch is a part of it", l.Length)
	}
	s := &Stretcher{length: l.Length, exponent: defaultExponent, least: spec.Least, most: spec.Most}
	if s.least == 0 {
		s.least = LeastStretch
	}
	if s.most == 0 {
		s.most = MostStretch
	}
	if !(s.least > 0 && s.least <= 1) {
		return nil, l.errorf("stretch: least is %g, expected more than 0 and at most 1", spec.Least)
	}
	if !(s.most >= 1 && s.most*0 == 0) {
		return nil, l.errorf("stretch: most is %g, expected a finite ratio of 1 or more", spec.Most)
	}
	if spec.Exponent != nil {
		if s.exponent = *spec.Exponent; !(s.exponent >= 0 && s.exponent <= 1) {
			return nil, l.errorf("stretch: exponent is %g, expected 0 to 1", s.exponent)
		}
	}
	if s.excess, err = l.excess(n, spec.Shares); err != nil {
		return nil, err
	}
	s.before = make([]float64, n)
	for i := 1; i < n; i++ {
		s.before[i] = s.before[i-1] + s.excess[i-1]/float64(n)
	}
	s.greatest = slices.Max(s.excess)
	return s, nil
}

// excess is by how much each segment's share is above an equal one, in equal
// shares; exactly 0 for equal ones.
func (l *Limb) excess(n int, shares []float64) ([]float64, error) {
	out := make([]float64, n)
	if shares == nil {
		return out, nil
	}
	if len(shares) != n {
		return nil, l.errorf("stretch: shares has %d numbers, expected %d, one for each segment", len(shares), n)
	}
	sum := 0.
	for i, k := range shares {
		if !(k >= 0 && k <= 1) {
			return nil, l.errorf("stretch: shares[%d] is %g, expected 0 to 1", i, k)
		}
		sum += k
	}
	if !(math.Abs(sum-1) <= MaxShareSumError) {
		return nil, l.errorf("stretch: shares sum to %g, expected 1", sum)
	}
	for i, k := range shares {
		out[i] = float64(n)*k/sum - 1
	}
	return out, nil
}

// Segments is how many segments a solve writes.
func (s *Stretcher) Segments() int { return len(s.excess) }

// Limits are the least and the greatest ratio of the bone's length to rest.
func (s *Stretcher) Limits() (least, most float64) { return s.least, s.most }

// ByRatio writes the segments of a bone that is ratio times as long as at rest,
// or as near to that as the limits let it, to dst, which has Segments() elements
// (anything else panics). At a ratio of 1 it gives exactly rest: At i/n of the
// length, Along and Across 1. NaN gives NaN.
//
// Error: the lengths, n of Along times length/n, add up to Metres to 1e-12 of
// it.
func (s *Stretcher) ByRatio(dst []Stretched, ratio float64) Length {
	s.check(dst)
	within := min(max(ratio, s.least), s.most)
	out := Length{Ratio: within, Metres: within * s.length, Short: (ratio - within) * s.length}
	s.share(dst, within)
	return out
}

// ByDistance writes the segments of a bone that reaches from its joint to a
// target, distance metres away: it ends there exactly where the limits let it,
// and as near as they do otherwise, and then Short says by how much it misses.
// Otherwise it is [Stretcher.ByRatio]; a distance under 0 counts as 0.
func (s *Stretcher) ByDistance(dst []Stretched, distance float64) Length {
	s.check(dst)
	distance = max(distance, 0)
	out := Length{Ratio: min(max(distance/s.length, s.least), s.most), Metres: distance}
	if out.Ratio != distance/s.length {
		out.Metres = out.Ratio * s.length
		out.Short = distance - out.Metres
	}
	s.share(dst, out.Ratio)
	return out
}

// ByRatios writes segments of which each is ratios[i] times as long as at rest,
// whatever the shares are. ratios has Segments() elements (anything else
// panics). One below a quarter of the least whole ratio counts as that. Where
// the whole bone would leave its limits all are scaled by one number that brings
// it back, and Short says by how much it left them.
func (s *Stretcher) ByRatios(dst []Stretched, ratios []float64) Length {
	s.check(dst)
	if len(ratios) != len(dst) {
		panic("chain: ratios has another length than the limb has segments")
	}
	// No segment of a bone within its limits can be longer than all of it.
	n := float64(len(dst))
	longest := n * s.most
	mean := 0.
	for _, ratio := range ratios {
		mean += s.bounded(ratio, longest)
	}
	mean /= n
	out := Length{Ratio: min(max(mean, s.least), s.most)}
	at, factor := 0., out.Ratio/mean
	for i, ratio := range ratios {
		along := s.bounded(ratio, longest)
		if factor != 1 {
			along *= factor
		}
		dst[i] = Stretched{At: at * s.length / n, Along: along, Across: s.section(along)}
		at += along
	}
	out.Metres = out.Ratio * s.length
	out.Short = (mean - out.Ratio) * s.length
	return out
}

// bounded is a segment's own ratio, kept from vanishing and from swallowing the
// bone; NaN stays.
func (s *Stretcher) bounded(ratio, longest float64) float64 {
	return min(max(ratio, floor*s.least), longest)
}

// share gives every segment its part. All lengths are written as what equal
// shares give and an excess that sums to 0.
func (s *Stretcher) share(dst []Stretched, ratio float64) {
	n := float64(len(dst))
	change := ratio - 1
	if lost := -change * s.greatest; lost > (1-floor)*ratio {
		change = -(1 - floor) * ratio / s.greatest
	}
	for i := range dst {
		along := ratio + change*s.excess[i]
		dst[i] = Stretched{
			At:     ratio*(s.length*float64(i)/n) + s.length*(change*s.before[i]),
			Along:  along,
			Across: s.section(along),
		}
	}
}

// section is the scale across a segment that has a ratio along.
func (s *Stretcher) section(along float64) float64 {
	if s.exponent == defaultExponent {
		return 1 / math.Sqrt(along)
	}
	return math.Pow(along, -s.exponent)
}

func (s *Stretcher) check(dst []Stretched) {
	if len(dst) != len(s.excess) {
		panic("chain: dst has another length than the limb has segments")
	}
}
