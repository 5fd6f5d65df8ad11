package report

import (
	"math"
	"slices"

	"github.com/pronate/pronate/chain/asset"
)

// SqueezeLimit is the squeeze from which skin counts as squeezed in a Moment: a
// fifth of its width gone is about where a crease shows on a character that
// fills a screen (common practice, no source).
const SqueezeLimit = 0.2

// Moment is the time of a clip at which the source's skin is squeezed most,
// and what the split does about it.
type Moment struct {
	Clip          string
	Index         int     // of the clip
	Time          float64 // seconds
	Before, After Squeeze
}

// Squeeze sums up a pose.
type Squeeze struct {
	Area    float64 // of skin squeezed beyond SqueezeLimit, as it is at rest, square metres
	Deepest float64 // the squeeze that 1 in 1000 of the skin, by area, is beyond
}

// framesPerSecond is how densely a clip is looked through for its worst moment.
const framesPerSecond = 15

// Moments looks every clip through. Both evaluators show the same mesh.
func Moments(source, split *asset.Evaluator, triangles [][3]int) []Moment {
	rest := source.Vertices(source.World(-1, 0))
	areas := Areas(rest, triangles)
	at := func(e *asset.Evaluator, clip int, t float64) Squeeze {
		return sumUp(Squeezed(rest, e.Vertices(e.World(clip, t)), triangles), areas)
	}
	var out []Moment
	for clip, name := range source.Clips() {
		first, last := source.Span(clip)
		worst := Moment{Clip: name, Index: clip, Time: first}
		worst.Before.Area = -1
		for i := range int(math.Ceil((last-first)*framesPerSecond)) + 1 {
			t := min(first+float64(i)/framesPerSecond, last)
			if s := at(source, clip, t); s.Area > worst.Before.Area {
				worst.Time, worst.Before = t, s
			}
		}
		worst.After = at(split, clip, worst.Time)
		out = append(out, worst)
	}
	return out
}

func sumUp(squeezed, areas []float64) (s Squeeze) {
	order := make([]int, len(squeezed))
	total := 0.
	for i := range order {
		order[i] = i
		total += areas[i]
		if squeezed[i] > SqueezeLimit {
			s.Area += areas[i]
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case squeezed[a] > squeezed[b]:
			return -1
		case squeezed[a] < squeezed[b]:
			return 1
		}
		return a - b
	})
	passed := 0.
	for _, i := range order {
		if passed += areas[i]; passed >= total/1000 {
			s.Deepest = squeezed[i]
			break
		}
	}
	return s
}
