package asset

import (
	"slices"

	"github.com/qmuntal/gltf"
	"gonum.org/v1/gonum/num/quat"
)

// rotations evaluates the track, as rotation does, at times that do not fall. It
// goes along with them, so that neither a key is looked for nor the way from one
// key to the next worked out for each time anew.
func (k *track) rotations(dst []quat.Number, times []float64) {
	if k.interpolation != gltf.InterpolationLinear {
		for i, t := range times {
			dst[i] = k.rotation(t)
		}
		return
	}
	// Key next is the first one after the time, or there is none.
	next, exact := slices.BinarySearch(k.times, times[0])
	if exact {
		next++
	}
	last := len(k.times) - 1
	way, known := arc{}, -1 // the arc that ends at key known, and
	var start, span float64 // when it begins and how long it takes
	from, to := quaternion(k.value(max(next-1, 0))), quaternion(k.value(min(next, last)))
	for i, t := range times {
		for next <= last && k.times[next] <= t {
			next++
			from, to = to, quaternion(k.value(min(next, last)))
		}
		if next == 0 || next > last || k.times[next-1] == t {
			dst[i] = from
			continue
		}
		if known != next {
			way, known = newArc(from, to), next
			start, span = k.times[next-1], k.times[next]-k.times[next-1]
		}
		dst[i] = way.at((t - start) / span)
	}
}

// turnWalk is a turner in one clip, made ready for many times.
type turnWalk struct {
	*turner
	clip  *clip
	still bool        // nothing on the way moves
	rest  quat.Number // where it stands then
	steps []turnStep
}

// turnStep is a node on the way: a track, or a rotation that stays.
type turnStep struct {
	track *track
	rest  quat.Number
}

func (t *turner) walkIn(c *clip) turnWalk {
	w := turnWalk{turner: t, clip: c, still: len(t.tracks(c)) == 0}
	if w.still {
		w.rest = t.at(c, 0)
	}
	for _, node := range t.way {
		step := turnStep{rest: t.own[node].rotation}
		if tracks := c.nodes[node]; tracks != nil {
			step.track = tracks.rotation
		}
		w.steps = append(w.steps, step)
	}
	return w
}

// rotations is the turner's at, for times that do not fall. spare is for the walk's use
// and as long as dst.
func (w *turnWalk) rotations(dst, spare []quat.Number, times []float64) {
	switch {
	case w.still:
		fill(dst, w.rest)
		return
	case w.skewed:
		for i, time := range times {
			dst[i] = w.at(w.clip, time)
		}
		return
	}
	for i, step := range w.steps {
		turns := dst
		if i > 0 {
			turns = spare
		}
		if step.track != nil {
			step.track.rotations(turns, times)
		} else {
			fill(turns, step.rest)
		}
		if i > 0 {
			for k := range dst {
				dst[k] = quat.Mul(dst[k], spare[k])
			}
		}
	}
}

func fill(dst []quat.Number, q quat.Number) {
	for i := range dst {
		dst[i] = q
	}
}
