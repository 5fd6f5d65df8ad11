package asset

import (
	"encoding/binary"
	"math"

	"github.com/qmuntal/gltf"
)

// OutOfReach is a clip's asking for a longer or shorter bone than a limb's
// stretch may be.
type OutOfReach struct {
	Clip   string  `json:"clip"`
	Limb   string  `json:"limb"`
	Target string  `json:"target"`
	Short  float64 `json:"short_m"` // the most by which it was missed: positive beyond reach, negative too near
	Time   float64 `json:"time_s"`  // then
}

// bakedShape is a limb's shape in a clip, stored.
type bakedShape struct {
	shapeFigures
	keysIn, keysOut int
	worst           float64 // metres away from the solver, between keys
	keys            trail
	step            bool
	moving          []shapes
	channels        []channel
}

// shapeTracks are the channels of a clip that bear on the limb's shape.
func (l *limb) shapeTracks(c *clip) []*track {
	var out []*track
	if l.stretching != nil {
		out = append(out, l.stretching.tracks(c)...)
	}
	if l.creasing != nil {
		out = append(out, l.creasing.tracks(c)...)
	}
	return out
}

// bakeShape bakes the places and sizes of one limb's segments in one clip,
// which the tracks move. What stays as its node stands gets no channel.
func (s *splitter) bakeShape(l *limb, c *clip, tracks []*track) bakedShape {
	times := keyTimes(tracks)
	out := bakedShape{}
	step := true
	for _, k := range tracks {
		step = step && k.interpolation == gltf.InterpolationStep
	}
	m := &shapeMotion{limb: l, clip: c, fine: s.options.Tolerance / 8}
	traced := newTrail(shapeNumbers*len(l.segments), len(times))
	if step {
		for _, t := range times {
			now := m.at(t)
			if n := len(traced.times); n == 0 || apart(traced.at(n-1), now.numbers) > 0 {
				traced.add(t, now.numbers...)
			}
		}
	} else {
		m.trace(&traced, times)
	}
	moving := m.moving(traced)
	out.shapeFigures = m.shapeFigures
	if moving == nil {
		return out
	}
	keys := traced
	if !step {
		keys = newTrail(traced.width, 0)
		for _, i := range thin(traced, s.options.Tolerance-m.fine) {
			keys.add(traced.times[i], traced.at(i)...)
		}
		out.worst = m.error(traced, keys, moving) * l.metres
	}
	out.keysIn, out.keysOut = len(times), len(keys.times)
	out.keys, out.step, out.moving = keys, step, moving
	return out
}

// shapes says which of a segment's two curves there are.
type shapes struct{ place, size bool }

// moving finds what leaves the place and size that the node has by more than fine;
// nil where nothing does.
func (m *shapeMotion) moving(traced trail) []shapes {
	out := make([]shapes, len(m.limb.segments))
	any := false
	for at := range traced.times {
		numbers := traced.at(at)
		for i := range out {
			v, still := numbers[shapeNumbers*i:shapeNumbers*(i+1)], m.limb.segments[i].shape
			out[i].place = out[i].place || max(math.Abs(v[0]-still[0]), math.Abs(v[1]-still[1]), math.Abs(v[2]-still[2])) > m.fine
			out[i].size = out[i].size || max(math.Abs(v[3]-still[3]), math.Abs(v[4]-still[4])) > m.fine
			any = any || out[i].place || out[i].size
		}
	}
	if !any {
		return nil
	}
	return out
}

// error measures, in bone lengths, how far the keys as they are stored leave
// the solver half-way between the samples that they were chosen from.
func (m *shapeMotion) error(traced, keys trail, moving []shapes) (worst float64) {
	next := 1
	for i := 1; i < len(traced.times) && len(keys.times) > 1; i++ {
		before, after := traced.times[i-1], traced.times[i]
		for next < len(keys.times)-1 && keys.times[next] < after {
			next++
		}
		if middle := between(before, after, 0.5); middle == before || middle == after {
			continue // a jump: no key fits there
		}
		t := (before + after) / 2
		fraction := (t - keys.times[next-1]) / (keys.times[next] - keys.times[next-1])
		now := m.at(t)
		for j, curves := range moving {
			a, b, c := m.limb.storedShape(j, keys.at(next-1), curves), m.limb.storedShape(j, keys.at(next), curves), m.limb.shapeExact(j, now.numbers)
			var off [2]float64
			for k := range a {
				d := float64(a[k]) + fraction*(float64(b[k])-float64(a[k])) - c[k]
				if k < 3 {
					off[0] = math.Hypot(off[0], d/m.limb.length)
				} else {
					off[1] = max(off[1], math.Abs(d))
				}
			}
			worst = max(worst, off[0], off[1])
		}
	}
	return worst
}

// shapeExact is a segment's translation and scale.
func (l *limb) shapeExact(segment int, numbers []float64) (out [6]float64) {
	v := numbers[shapeNumbers*segment : shapeNumbers*(segment+1)]
	return l.shaped(segment, v)
}

// shaped is the same for the segment's own numbers.
func (l *limb) shaped(segment int, v []float64) (out [6]float64) {
	for k := range 3 {
		out[k] = float64(l.segments[segment].at[k]) + v[k]*l.length
		out[3+k] = v[4]
	}
	out[3+l.column] = v[3]
	return out
}

// storedShape is the same as it is stored: as the node stands, where there is no
// curve.
func (l *limb) storedShape(segment int, numbers []float64, curves shapes) (out [6]float32) {
	exact := l.shapeExact(segment, numbers)
	stands := l.shaped(segment, l.segments[segment].shape[:])
	for k := range exact {
		if k < 3 && !curves.place || k >= 3 && !curves.size {
			exact[k] = stands[k]
		}
		out[k] = float32(exact[k])
	}
	return out
}

// storeShape writes the curves' accessors, which share their times.
func (s *splitter) storeShape(l *limb, keys trail, step bool, moving []shapes) []channel {
	input, interpolation := s.storeTimes(keys.times), gltf.InterpolationLinear
	if step {
		interpolation = gltf.InterpolationStep
	}
	var out []channel
	for i, curves := range moving {
		for part, path := range []gltf.TRSProperty{gltf.TRSTranslation, gltf.TRSScale} {
			if part == 0 && !curves.place || part == 1 && !curves.size {
				continue
			}
			var values []byte
			for k := range keys.times {
				stored := l.storedShape(i, keys.at(k), curves)
				for _, x := range stored[3*part : 3*part+3] {
					values = binary.LittleEndian.AppendUint32(values, math.Float32bits(x))
				}
			}
			output := s.patch.addAccessor(gltf.Accessor{
				ComponentType: gltf.ComponentFloat, Type: gltf.AccessorVec3, Count: len(keys.times),
			}, gltf.TargetNone, values)
			out = append(out, channel{node: l.segments[i].node, path: path, input: input, output: output, interpolation: interpolation})
		}
	}
	return out
}

// shape stores a limb's shape in a clip and sums it up.
func (s *splitter) shape(w moving, l *limb, c *clip, sum *bakedClip) []channel {
	if w.key == "" {
		return nil
	}
	baked, seen := s.shaped[w.key]
	if !seen {
		baked = w.bakedShape
		if baked.moving != nil {
			baked.channels = s.storeShape(l, baked.keys, baked.step, baked.moving)
			baked.keys = trail{} // they are in the file now
		}
		s.shaped[w.key] = baked
	}
	sum.keysIn += baked.keysIn
	sum.keysOut += baked.keysOut
	sum.worstShape = max(sum.worstShape, baked.worst)
	l.shape.join(baked.shapeFigures)
	if x := l.stretching; x != nil && math.Abs(baked.short) > s.options.Tolerance*x.metres {
		s.outOfReach = append(s.outOfReach, OutOfReach{Clip: c.name, Limb: l.spec.Name, Target: x.by, Short: baked.short, Time: baked.when})
	}
	return baked.channels
}
