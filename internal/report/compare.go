package report

import (
	"math"

	"github.com/pronate/pronate/chain/asset"
)

// SqueezeLimit is the squeeze from which skin counts as squeezed in a Moment: a
// fifth of its width gone is about where a crease shows on a character that
// fills a screen (common practice, no source).
const SqueezeLimit = 0.2

// Change is what a split does to a clip: areas of skin squeezed beyond
// SqueezeLimit, as they are at rest, in square metres.
type Change struct {
	Clip   string  `json:"clip"`
	Time   float64 `json:"time_s"` // when the split gains most
	Before float64 `json:"before_m2"`
	After  float64 `json:"after_m2"`
	// Mean over the clip.
	MeanBefore float64 `json:"mean_before_m2"`
	MeanAfter  float64 `json:"mean_after_m2"`
}

// framesPerSecond is how densely a clip is looked through.
const framesPerSecond = 15

// Changes looks every clip through. Both evaluators show the same mesh.
func Changes(source, split *asset.Evaluator, triangles [][3]int) []Change {
	rest := source.Vertices(source.World(-1, 0))
	areas := Areas(rest, triangles)
	at := func(e *asset.Evaluator, clip int, t float64) float64 {
		return squeezedArea(Squeezed(rest, e.Vertices(e.World(clip, t)), triangles), areas, nil)
	}
	var out []Change
	for clip, name := range source.Clips() {
		first, last := source.Span(clip)
		c := Change{Clip: name}
		frames := int(math.Ceil((last-first)*framesPerSecond)) + 1
		for i := range frames {
			t := min(first+float64(i)/framesPerSecond, last)
			before, after := at(source, clip, t), at(split, clip, t)
			if i == 0 || before-after > c.Before-c.After {
				c.Time, c.Before, c.After = t, before, after
			}
			c.MeanBefore += before / float64(frames)
			c.MeanAfter += after / float64(frames)
		}
		out = append(out, c)
	}
	return out
}

// squeezedArea adds up the triangles squeezed beyond SqueezeLimit; among, where
// it is not nil, says which triangles count.
func squeezedArea(squeezed, areas []float64, among []bool) (area float64) {
	for i, s := range squeezed {
		if s > SqueezeLimit && (among == nil || among[i]) {
			area += areas[i]
		}
	}
	return area
}
