package asset

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"

	"github.com/pronate/pronate/twist"
	"github.com/qmuntal/gltf"
	"gonum.org/v1/gonum/num/quat"
)

// bakedClip sums up what a clip's limbs took.
type bakedClip struct {
	name            string
	keysIn, keysOut int
	worst           float64 // radians, of any segment at any time
}

// bake writes the segments' curves into every clip that turns a limb.
func (s *splitter) bake() ([]bakedClip, error) {
	var out []bakedClip
	for i := range s.source.clips {
		c := &s.source.clips[i]
		sum := bakedClip{name: c.name}
		var added []channel
		for _, l := range s.limbs {
			curve, ok := s.curve(l, c)
			if !ok {
				continue
			}
			sum.keysIn += curve.keysIn
			sum.keysOut += len(curve.keys)
			sum.worst = max(sum.worst, curve.worst)
			added = append(added, s.storeCurve(l, curve)...)
		}
		if len(added) > 0 {
			if err := s.addChannels(c, added); err != nil {
				return nil, err
			}
		}
		out = append(out, sum)
		if s.options.Progress != nil {
			s.options.Progress(i+1, len(s.source.clips))
		}
	}
	return out, nil
}

// curve is one limb's share of a clip: the keys of all its segments.
type curve struct {
	keys   []sample
	step   bool
	keysIn int
	worst  float64
}

// curve bakes one limb in one clip; false where the clip does not turn it.
func (s *splitter) curve(l *limb, c *clip) (curve, bool) {
	tracks := l.tracks(c)
	if len(tracks) == 0 {
		return curve{}, false
	}
	times := keyTimes(tracks)
	out := curve{keysIn: len(times), step: true}
	for _, k := range tracks {
		out.step = out.step && k.interpolation == gltf.InterpolationStep
	}
	// An eighth of the tolerance goes to sampling, the rest to thinning out.
	m := &motion{limb: l, clip: c, n: l.solver.Segments(), fine: s.options.Tolerance / 8, worstCondition: 1}
	if out.step {
		for i, t := range times {
			now := m.at(t)
			if i == 0 || apart(out.keys[len(out.keys)-1].angles, now.angles) > 0 {
				out.keys = append(out.keys, now)
			}
		}
		s.warn(m, nil)
		return out, true
	}
	traced := m.trace(times)
	out.keys = thin(traced, s.options.Tolerance-m.fine)
	out.worst = m.error(traced, out.keys)
	s.warn(m, tracks)
	return out, true
}

// error measures how far the keys, as float32 numbers and as a viewer
// interpolates them, leave the solver: half-way between the samples that the
// keys were chosen from, where nothing was measured before.
func (m *motion) error(traced, keys []sample) (worst float64) {
	next := 1
	for i := 1; i < len(traced); i++ {
		for next < len(keys)-1 && keys[next].time < traced[i].time {
			next++
		}
		if len(keys) == 1 {
			break
		}
		from, to := keys[next-1], keys[next]
		t := (traced[i-1].time + traced[i].time) / 2
		now := m.at(t)
		fraction := (t - from.time) / (to.time - from.time)
		for j, angle := range now.angles {
			if !m.limb.segments[j].moves {
				continue
			}
			between := slerp(m.key(from.angles[j]), m.key(to.angles[j]), fraction)
			worst = max(worst, turn(between, twist.About(m.limb.axis, m.limb.sense*angle)))
		}
	}
	return worst
}

// key is a segment's rotation as it is stored, in float32.
func (m *motion) key(angle float64) quat.Number {
	stored := keyRotation(m.limb, angle)
	return unit(quat.Number{
		Real: float64(stored[3]), Imag: float64(stored[0]), Jmag: float64(stored[1]), Kmag: float64(stored[2]),
	})
}

func keyRotation(l *limb, angle float64) [4]float32 {
	q := twist.About(l.axis, l.sense*angle)
	return [4]float32{float32(q.Imag), float32(q.Jmag), float32(q.Kmag), float32(q.Real)}
}

// channel is an animation channel to be added: which node turns, and how.
type channel struct {
	node          int
	input, output int
	interpolation gltf.Interpolation
}

// storeCurve writes a curve's accessors. All segments of a limb share their
// times.
func (s *splitter) storeCurve(l *limb, c curve) []channel {
	var times []byte
	for _, key := range c.keys {
		times = binary.LittleEndian.AppendUint32(times, math.Float32bits(float32(key.time)))
	}
	first, last := c.keys[0].time, c.keys[len(c.keys)-1].time
	input := s.patch.addAccessor(gltf.Accessor{
		ComponentType: gltf.ComponentFloat, Type: gltf.AccessorScalar, Count: len(c.keys),
		Min: []float64{first}, Max: []float64{last},
	}, gltf.TargetNone, times)
	interpolation := gltf.InterpolationLinear
	if c.step {
		interpolation = gltf.InterpolationStep
	}
	var out []channel
	for i, seg := range l.segments {
		if !seg.moves {
			continue
		}
		var values []byte
		for _, key := range c.keys {
			for _, x := range keyRotation(l, key.angles[i]) {
				values = binary.LittleEndian.AppendUint32(values, math.Float32bits(x))
			}
		}
		output := s.patch.addAccessor(gltf.Accessor{
			ComponentType: gltf.ComponentFloat, Type: gltf.AccessorVec4, Count: len(c.keys),
		}, gltf.TargetNone, values)
		out = append(out, channel{node: seg.node, input: input, output: output, interpolation: interpolation})
	}
	return out
}

// addChannels appends samplers and channels to an animation.
func (s *splitter) addChannels(c *clip, added []channel) error {
	return s.patch.edit("animations", c.index, func(o object) error {
		var samplers, channels []json.RawMessage
		if err := json.Unmarshal(o["samplers"], &samplers); err != nil {
			return fmt.Errorf("%s: animation %q: samplers: %w", s.file.Name, c.name, err)
		}
		if err := json.Unmarshal(o["channels"], &channels); err != nil {
			return fmt.Errorf("%s: animation %q: channels: %w", s.file.Name, c.name, err)
		}
		for _, a := range added {
			node := a.node
			channels = append(channels, encode(&gltf.AnimationChannel{
				Sampler: len(samplers), Target: gltf.AnimationChannelTarget{Node: &node, Path: gltf.TRSRotation},
			}))
			samplers = append(samplers, encode(&gltf.AnimationSampler{
				Input: a.input, Output: a.output, Interpolation: a.interpolation,
			}))
		}
		o.set("samplers", samplers)
		o.set("channels", channels)
		return nil
	})
}

// warn tells of poses where the limb's twist is not to be trusted.
func (s *splitter) warn(m *motion, tracks []*track) {
	// At a condition of 0.05 an error of the joint's rotation comes out forty
	// times as large in the twist (2/condition), and the swing is within six
	// degrees of the half turn.
	const trusted = 0.05
	where := fmt.Sprintf("clip %q: limb %q", m.clip.name, m.limb.spec.Name)
	if m.worstCondition < trusted {
		s.warnings = append(s.warnings, fmt.Sprintf(
			"%s: near %.3f s the bone points within %.1f degrees of the direction its swing is undefined in; expect it to roll fast there",
			where, m.worstTime, 4*math.Atan2(m.worstCondition, math.Sqrt(1-m.worstCondition*m.worstCondition)+1)*180/math.Pi))
	}
	for _, j := range m.jumps {
		if steps(tracks, j.time) {
			continue
		}
		s.warnings = append(s.warnings, fmt.Sprintf(
			"%s: at %.3f s its twist passes half a turn and segments flip by up to %.0f degrees",
			where, j.time, j.angle*180/math.Pi))
		break // the first says it; a spinning joint has many
	}
}

// steps reports whether a channel jumps at time t by its own design.
func steps(tracks []*track, t float64) bool {
	for _, k := range tracks {
		if key, _, _ := k.find(t); k.interpolation == gltf.InterpolationStep && k.times[key] == t {
			return true
		}
	}
	return false
}
