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
// which the tracks move. What stays as it is at rest gets no channel.
func (s *splitter) bakeShape(l *limb, c *clip, tracks []*track) bakedShape {
	times := keyTimes(tracks)
	out := bakedShape{}
	step := true
	for _, k := range tracks {
		step = step && k.interpolation == gltf.InterpolationStep
	}
	m := &shapeMotion{limb: l, clip: c, fine: s.options.Tolerance / 8}
	var traced []sample
	if step {
		for _, t := range times {
			now := m.at(t)
			if n := len(traced); n == 0 || apart(traced[n-1].angles, now.angles) > 0 {
				traced = append(traced, now)
			}
		}
	} else {
		traced = m.trace(times)
	}
	moving := m.moving(traced)
	out.shapeFigures = m.shapeFigures
	if moving == nil {
		return out
	}
	keys := traced
	if !step {
		keys = thin(traced, s.options.Tolerance-m.fine)
		out.worst = m.error(traced, keys, moving) * l.metres
	}
	out.keysIn, out.keysOut = len(times), len(keys)
	out.channels = s.storeShape(l, keys, step, moving)
	return out
}

// shapes says which of a segment's two curves there are.
type shapes struct{ place, size bool }

// moving finds what leaves rest by more than fine; nil where nothing does.
func (m *shapeMotion) moving(traced []sample) []shapes {
	out := make([]shapes, len(m.limb.segments))
	any := false
	for _, s := range traced {
		for i := range out {
			v := s.angles[shapeNumbers*i : shapeNumbers*(i+1)]
			out[i].place = out[i].place || max(math.Abs(v[0]), math.Abs(v[1]), math.Abs(v[2])) > m.fine
			out[i].size = out[i].size || max(math.Abs(v[3]-1), math.Abs(v[4]-1)) > m.fine
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
func (m *shapeMotion) error(traced, keys []sample, moving []shapes) (worst float64) {
	next := 1
	for i := 1; i < len(traced) && len(keys) > 1; i++ {
		for next < len(keys)-1 && keys[next].time < traced[i].time {
			next++
		}
		from, to := keys[next-1], keys[next]
		if middle := between(traced[i-1].time, traced[i].time, 0.5); middle == traced[i-1].time || middle == traced[i].time {
			continue // a jump: no key fits there
		}
		t := (traced[i-1].time + traced[i].time) / 2
		fraction := (t - from.time) / (to.time - from.time)
		now := m.at(t)
		for j, curves := range moving {
			a, b, c := m.limb.shapeSample(j, from, curves), m.limb.shapeSample(j, to, curves), m.limb.shapeExact(j, now)
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
func (l *limb) shapeExact(segment int, s sample) (out [6]float64) {
	v := s.angles[shapeNumbers*segment : shapeNumbers*(segment+1)]
	for k := range 3 {
		out[k] = float64(l.segments[segment].at[k]) + v[k]*l.length
		out[3+k] = v[4]
	}
	out[3+l.column] = v[3]
	return out
}

// shapeSample is the same as it is stored: at rest, where there is no curve.
func (l *limb) shapeSample(segment int, s sample, curves shapes) (out [6]float32) {
	exact := l.shapeExact(segment, s)
	for k := range exact {
		switch {
		case k < 3 && !curves.place:
			out[k] = l.segments[segment].at[k]
		case k >= 3 && !curves.size:
			out[k] = 1
		default:
			out[k] = float32(exact[k])
		}
	}
	return out
}

// storeShape writes the curves' accessors, which share their times.
func (s *splitter) storeShape(l *limb, keys []sample, step bool, moving []shapes) []channel {
	input, interpolation := s.storeTimes(keys), gltf.InterpolationLinear
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
			for _, key := range keys {
				stored := l.shapeSample(i, key, curves)
				for _, x := range stored[3*part : 3*part+3] {
					values = binary.LittleEndian.AppendUint32(values, math.Float32bits(x))
				}
			}
			output := s.patch.addAccessor(gltf.Accessor{
				ComponentType: gltf.ComponentFloat, Type: gltf.AccessorVec3, Count: len(keys),
			}, gltf.TargetNone, values)
			out = append(out, channel{node: l.segments[i].node, path: path, input: input, output: output, interpolation: interpolation})
		}
	}
	return out
}

// shape bakes a limb's shape into a clip and sums it up.
func (s *splitter) shape(index int, l *limb, c *clip, sum *bakedClip) []channel {
	tracks := l.shapeTracks(c)
	if len(tracks) == 0 {
		return nil
	}
	// Clips that share their samplers share what is baked from them.
	key := samplersOf(index, tracks)
	baked, seen := s.shaped[key]
	if !seen {
		baked = s.bakeShape(l, c, tracks)
		s.shaped[key] = baked
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
