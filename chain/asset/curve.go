package asset

import (
	"encoding/binary"
	"math"

	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
)

// curve is one limb's share of a clip: the keys of all its segments.
type curve struct {
	keysIn, keysOut int
	times           []float64
	values          [][]byte // of each segment that moves, as they are stored
	step            bool
	worst           float64 // radians away from the solver
	twist           float64 // radians, the most that the limb ramps
	beyond          excursion
	// closing is by how much a loop's history was off, in radians.
	closing  float64
	warnings []string
}

// store fills in the keys.
func (c *curve) store(l *limb, keys *trail) {
	c.times, c.keysOut = keys.times, len(keys.times)
	c.values = make([][]byte, len(l.segments))
	for i, seg := range l.segments {
		if !seg.moves {
			continue
		}
		values := make([]byte, 0, 16*len(keys.times))
		for k := range keys.times {
			for _, x := range l.stored(i, keys.at(k)) {
				values = binary.LittleEndian.AppendUint32(values, math.Float32bits(x))
			}
		}
		c.values[i] = values
	}
}

// stored is a segment's rotation under the two twists, as glTF stores it.
func (l *limb) stored(segment int, twists []float64) [4]float32 {
	return storedRotation(l.turned(segment, twists))
}

// turned is a segment's rotation in the joint's frame under the two twists.
func (l *limb) turned(segment int, twists []float64) quat.Number {
	return l.placed(twist.About(l.axis, l.sense*l.shares[segment].of([2]float64(twists))))
}

// parted reports whether any segment's angle differs.
func (l *limb) parted(a, b [2]float64) bool {
	for _, s := range l.shares {
		if s.of(a) != s.of(b) {
			return true
		}
	}
	return false
}

// storing bounds by how much what float32 keys give differs, in radians, from
// angles that go straight from key to key. A key's components are off by 2^-25
// each and its angle by 2^-23 at most; between keys 0.9 of half a turn apart that
// grows by 1/cos(0.45 pi), 6.4.
const storing = 1e-6

// error measures how far the keys, as float32 numbers and as a viewer
// interpolates them, leave the solver: half-way between the samples that the
// keys were chosen from.
func (l *limb) error(traces []*trace, keys *trail) (worst float64) {
	next := 1
	for _, trace := range traces {
		for i, t := range trace.middles.times {
			for next < len(keys.times)-1 && keys.times[next] < t {
				next++
			}
			if next < len(keys.times) {
				worst = max(worst, l.errorAt(trace.middles.at(i), t, keys, next, worst))
			}
		}
	}
	return worst
}

// errorAt is the greatest error of a segment at one time, between key next and the one
// before it; 0 where it is not worse than the worst.
func (l *limb) errorAt(exact []float64, t float64, keys *trail, next int, worst float64) (greatest float64) {
	from, to := keys.at(next-1), keys.at(next)
	fraction := (t - keys.times[next-1]) / (keys.times[next] - keys.times[next-1])
	var off, all [2]float64
	for k := range off {
		off[k] = exact[k] - (from[k] + fraction*(to[k]-from[k]))
		all[k] = to[k] - from[k]
	}
	if l.widest(off)+storing < worst && l.widest(all) < math.Pi {
		return 0
	}
	for j := range l.segments {
		if l.segments[j].moves {
			between := slerp(l.key(j, from), l.key(j, to), fraction)
			greatest = max(greatest, turn(between, l.turned(j, exact)))
		}
	}
	return greatest
}

// key is a segment's rotation as it is stored, in float32.
func (l *limb) key(segment int, twists []float64) quat.Number {
	stored := l.stored(segment, twists)
	return unit(quat.Number{
		Real: float64(stored[3]), Imag: float64(stored[0]), Jmag: float64(stored[1]), Kmag: float64(stored[2]),
	})
}
