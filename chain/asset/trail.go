package asset

import (
	"math"
	"slices"
)

// trail is a curve of one or more numbers over time, sampled.
type trail struct {
	width   int // numbers in a sample
	times   []float64
	numbers []float64
}

func newTrail(width, samples int) trail {
	return trail{width: width, times: make([]float64, 0, samples), numbers: make([]float64, 0, width*samples)}
}

func (c *trail) add(t float64, numbers ...float64) {
	c.times = append(c.times, t)
	c.numbers = append(c.numbers, numbers...)
}

// at is the numbers of a sample.
func (c *trail) at(sample int) []float64 {
	return c.numbers[sample*c.width : (sample+1)*c.width]
}

// between is the float32 time, as keys are stored, at a fraction of the way.
func between(a, b, fraction float64) float64 {
	return float64(float32(a + fraction*(b-a)))
}

// apart is the largest difference of two samples' numbers.
func apart(a, b []float64) (worst float64) {
	for i := range a {
		worst = max(worst, math.Abs(a[i]-b[i]))
	}
	return worst
}

// thin keeps as few of the samples as straight lines within tolerance of all
// the others allow, the first and the last among them: from each kept sample it
// goes as far as one line can reach (the cone of slopes that pass all samples
// on the way; Imai and Iri 1988, greedy form, from memory). It returns which ones.
func thin(c trail, tolerance float64) []int {
	// Between two keys a viewer turns the short way round, so keys must not
	// be half a turn apart; 0.9 keeps clear of it.
	const farthest = 0.9 * math.Pi
	kept := []int{0}
	low, high := make([]float64, c.width), make([]float64, c.width)
	for start := 0; start < len(c.times)-1; {
		from := c.at(start)
		for i := range low {
			low[i], high[i] = math.Inf(-1), math.Inf(1)
		}
		reach := start + 1
		for next := start + 1; next < len(c.times); next++ {
			to, span := c.at(next), c.times[next]-c.times[start]
			if next > start+1 && apart(from, to) > farthest {
				break
			}
			if inside(from, to, span, low, high) {
				reach = next
			}
			if !narrow(from, to, span, tolerance, low, high) {
				break
			}
		}
		start = reach
		kept = append(kept, start)
	}
	return slices.Clip(kept)
}

// inside reports whether the line to a sample passes all samples before it.
func inside(from, to []float64, span float64, low, high []float64) bool {
	for i := range low {
		if slope := (to[i] - from[i]) / span; slope < low[i] || slope > high[i] {
			return false
		}
	}
	return true
}

// narrow takes a sample into the cone; false where no slope is left.
func narrow(from, to []float64, span, tolerance float64, low, high []float64) bool {
	open := true
	for i := range low {
		rise := to[i] - from[i]
		low[i] = max(low[i], (rise-tolerance)/span)
		high[i] = min(high[i], (rise+tolerance)/span)
		open = open && low[i] <= high[i]
	}
	return open
}
