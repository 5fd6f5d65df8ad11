package asset

import "math"

// A segment's angle about the axis is a share of each twist: (k_i - 1) of the
// joint's own and m_i of the tip's.

// share is the parts of the two twists that a segment's angle has.
type share [2]float64

// of is a segment's angle about the long axis.
func (s share) of(twists [2]float64) float64 { return s[0]*twists[0] + s[1]*twists[1] }

// shares lists all segments'.
func shares(own, tip []float64) []share {
	out := make([]share, len(own))
	for i, k := range own {
		out[i][0] = k - 1
		if tip != nil {
			out[i][1] = tip[i]
		}
	}
	return out
}

// leading are the shares that decide where a limb's keys go. Where segments share
// out one twist alone, and most limbs do, that is the greatest: all others turn in
// proportion, and less.
func leading(all []share) []share {
	var widest share
	for _, s := range all {
		if s[0] != 0 && widest[1] != 0 || s[1] != 0 && widest[0] != 0 || s[0] != 0 && s[1] != 0 {
			return all // of two twists
		}
		if math.Abs(s[0])+math.Abs(s[1]) > math.Abs(widest[0])+math.Abs(widest[1]) {
			widest = s
		}
	}
	return []share{widest}
}

// widest is the greatest angle that any segment turns by under the twists.
func (l *limb) widest(twists [2]float64) (most float64) {
	if len(l.leading) == 1 {
		return math.Abs(l.leading[0].of(twists))
	}
	for _, s := range l.leading {
		most = max(most, math.Abs(s.of(twists)))
	}
	return most
}

// flip is the largest turn of a segment from twists to others, whole turns being
// none.
func (l *limb) flip(from, to [2]float64) (worst float64) {
	for _, s := range l.shares {
		worst = max(worst, math.Abs(math.Remainder(s.of(to)-s.of(from), 2*math.Pi)))
	}
	return worst
}

// angles are those of the leading segments, sample by sample.
func (l *limb) angles(traces []*trace) trail {
	samples := 0
	for _, t := range traces {
		samples += len(t.samples.times)
	}
	out := newTrail(len(l.leading), samples)
	for _, t := range traces {
		out.times = append(out.times, t.samples.times...)
		for i := range t.samples.times {
			for _, s := range l.leading {
				out.numbers = append(out.numbers, s.of([2]float64(t.samples.at(i))))
			}
		}
	}
	return out
}
