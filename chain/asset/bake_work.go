package asset

import (
	"fmt"

	"github.com/pronate/pronate/internal/parallel"
	"github.com/qmuntal/gltf"
)

// turning is the work of baking one limb's turns in one clip.
type turning struct {
	key    string // of what drives the limb; empty for a limb that nothing turns
	tracks []*track
	motion *motion
	times  []float64
	traces []*trace // one after another
	bakedLimb
}

// moving is the same of its shape.
type moving struct {
	key    string
	tracks []*track
	bakedShape
}

// piece is a part of a clip that is traced by itself, from key to key.
type piece struct {
	of     *turning
	times  []float64
	motion *motion
	trace  *trace
}

// pieceKeys is how many keys of a clip make a piece: enough that starting one costs
// nothing beside it, few enough that a long clip keeps all cores busy to its end.
const pieceKeys = 2048

// work solves all limbs of a clip that were not solved before, on all cores: first
// what a limb's pieces have in common and its shape, then piece by piece, and then
// limb by limb what has to be done in one go.
func (s *splitter) work(c *clip) ([]turning, []moving) {
	turns, moves := make([]turning, len(s.limbs)), make([]moving, len(s.limbs))
	parallel.Each(2*len(s.limbs), func(i int) {
		if k := i / 2; i%2 == 0 {
			s.begin(&turns[k], k, c)
		} else {
			s.workShape(&moves[k], k, c)
		}
	})
	var pieces []*piece
	for k := range turns {
		if w := &turns[k]; w.motion != nil && !w.step {
			for at := 0; at < len(w.times)-1; at += pieceKeys {
				pieces = append(pieces, &piece{of: w, times: w.times[at:min(at+pieceKeys+1, len(w.times))], motion: w.motion.another()})
			}
		}
	}
	parallel.Each(len(pieces), func(i int) { pieces[i].trace = pieces[i].motion.traceFrom(pieces[i].times) })
	parallel.Each(len(turns), func(k int) {
		w := &turns[k]
		if w.motion == nil {
			return
		}
		for _, p := range pieces {
			if p.of == w {
				w.traces = append(w.traces, p.trace)
				w.motion.seen.join(p.motion.seen)
			}
		}
		s.finish(w)
		w.traces = nil
	})
	return turns, moves
}

// begin finds what a limb's pieces have in common.
func (s *splitter) begin(w *turning, index int, c *clip) {
	l := s.limbs[index]
	if w.tracks = l.tracks(c); len(w.tracks) == 0 {
		return
	}
	w.key = samplersOf(index, w.tracks)
	if _, seen := s.baked[w.key]; seen {
		return
	}
	w.times, w.motion = keyTimes(w.tracks), s.motion(l, c)
	w.motion.span = [2]float64{w.times[0], w.times[len(w.times)-1]}
	w.keysIn, w.step = len(w.times), true
	for _, k := range w.tracks {
		w.step = w.step && k.interpolation == gltf.InterpolationStep
	}
	if s.options.History {
		h := w.motion.remember(w.times)
		w.closing = max(h.closing[0], -h.closing[0], h.closing[1], -h.closing[1])
		beyond := w.motion.seen.watch
		w.motion.forget() // there are no singular poses, and other twists
		w.motion.seen.watch, w.motion.history = beyond, h
		if turns := h.turns; turns != [2]int{} {
			w.warnings = append(w.warnings, fmt.Sprintf(
				"clip %q: limb %q: ends as it began but for whole turns about the bone (%d); segments between its root and its end cannot close the loop",
				c.name, l.spec.Name, max(turns[0], -turns[0], turns[1], -turns[1])))
		}
	}
	first := w.motion.at(w.times[0])
	start := &trace{newTrail(2, 1), newTrail(2, 1)}
	start.add(&first, &first)
	w.traces = []*trace{start}
}

// finish makes keys of a limb's traced motion.
func (s *splitter) finish(w *turning) {
	m, tracks := w.motion, w.tracks
	if w.step {
		tracks = nil
		w.store(m.limb, m.held(w.times))
	} else {
		keys := w.keys(s.options.Tolerance - m.fine)
		w.store(m.limb, keys)
		w.worst = m.limb.error(w.traces, keys)
	}
	w.warnings = append(w.warnings, m.warnings(tracks)...)
	w.twist, w.beyond = m.seen.twist, m.seen.watch.excursion
}

// held are the twists at those of the times when they change.
func (m *motion) held(times []float64) *trail {
	keys := newTrail(2, len(times))
	for _, t := range times {
		now := m.at(t)
		if n := len(keys.times); n == 0 || m.limb.parted([2]float64(keys.at(n-1)), now.twists) {
			keys.add(t, now.twists[:]...)
		}
	}
	return &keys
}

// keys are the twists at as few samples as do.
func (w *turning) keys(tolerance float64) *trail {
	kept := thin(w.motion.limb.angles(w.traces), tolerance)
	keys := newTrail(2, len(kept))
	before, next := 0, 0
	for _, t := range w.traces {
		for ; next < len(kept) && kept[next]-before < len(t.samples.times); next++ {
			at := kept[next] - before
			keys.add(t.samples.times[at], t.samples.at(at)...)
		}
		before += len(t.samples.times)
	}
	return &keys
}

// workShape bakes a limb's shape.
func (s *splitter) workShape(w *moving, index int, c *clip) {
	l := s.limbs[index]
	if w.tracks = l.shapeTracks(c); len(w.tracks) == 0 {
		return
	}
	w.key = samplersOf(index, w.tracks)
	if _, seen := s.shaped[w.key]; !seen {
		w.bakedShape = s.bakeShape(l, c, w.tracks)
	}
}
