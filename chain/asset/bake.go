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
	closing         float64 // radians, the most that a loop's history was off by
	worstShape      float64 // metres, of any segment's place or size
}

// bake writes the segments' curves into every clip that turns a limb, or moves
// one that follows.
func (s *splitter) bake() ([]bakedClip, error) {
	var out []bakedClip
	for i := range s.source.clips {
		c := &s.source.clips[i]
		sum := bakedClip{name: c.name}
		var added []channel
		for k, l := range s.limbs {
			added = append(added, s.shape(k, l, c, &sum)...)
			l.twists = append(l.twists, 0)
			tracks := l.tracks(c)
			if len(tracks) == 0 {
				continue
			}
			// Clips that share their samplers share what is baked from them.
			key := samplersOf(k, tracks)
			limb, seen := s.baked[key]
			if !seen {
				limb.curve = s.curve(l, c, tracks)
				limb.channels = s.storeCurve(l, limb.curve)
				limb.count = len(limb.keys)
				limb.keys = nil // they are in the file now
				s.baked[key] = limb
			}
			sum.keysIn += limb.keysIn
			sum.keysOut += limb.count
			sum.worst = max(sum.worst, limb.worst)
			sum.closing = max(sum.closing, limb.closing)
			s.excursion(l, c, limb.beyond)
			l.twists[i] = limb.twist
			added = append(added, limb.channels...)
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

// bakedLimb is a limb in a clip, stored.
type bakedLimb struct {
	curve
	count    int // keys
	channels []channel
}

// samplersOf names a limb and all that drives it in a clip.
func samplersOf(limb int, tracks []*track) string {
	key := fmt.Sprint(limb)
	for _, k := range tracks {
		key += fmt.Sprint(";", k.node, k.path, k.input, k.output, k.interpolation)
	}
	return key
}

// curve is one limb's share of a clip: the keys of all its segments.
type curve struct {
	keys   []sample
	step   bool
	keysIn int
	worst  float64 // radians away from the solver
	twist  float64 // radians, the most that the limb ramps
	beyond excursion
	// closing is by how much a loop's history was off, in radians.
	closing float64
}

// curve bakes one limb in one clip, which the tracks drive.
func (s *splitter) curve(l *limb, c *clip, tracks []*track) curve {
	times := keyTimes(tracks)
	out := curve{keysIn: len(times), step: true}
	for _, k := range tracks {
		out.step = out.step && k.interpolation == gltf.InterpolationStep
	}
	// An eighth of the tolerance goes to sampling, the rest to thinning out.
	m := &motion{limb: l, clip: c, n: l.solver.Segments(), fine: s.options.Tolerance / 8, worstCondition: 1}
	if s.options.History {
		m.history = m.remember(times)
		out.closing = max(math.Abs(m.history.closing[0]), math.Abs(m.history.closing[1]))
		m.worstCondition, m.mostTwist = 1, 0 // there are no singular poses, and other twists
		if turns := m.history.turns; turns != [2]int{} {
			s.warnings = append(s.warnings, fmt.Sprintf(
				"clip %q: limb %q: ends as it began but for whole turns about the bone (%d); segments between its root and its end cannot close the loop",
				c.name, l.spec.Name, max(turns[0], -turns[0], turns[1], -turns[1])))
		}
	}
	if out.step {
		for i, t := range times {
			now := m.at(t)
			if i == 0 || apart(out.keys[len(out.keys)-1].angles, now.angles) > 0 {
				out.keys = append(out.keys, now)
			}
		}
		out.twist, out.beyond = m.mostTwist, m.worstBeyond
		s.warn(m, nil)
		return out
	}
	traced := m.trace(times)
	out.keys = thin(traced, s.options.Tolerance-m.fine)
	out.worst = m.error(traced, out.keys)
	out.twist, out.beyond = m.mostTwist, m.worstBeyond
	s.warn(m, tracks)
	return out
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
		if between(traced[i-1].time, traced[i].time, 0.5) == traced[i].time || between(traced[i-1].time, traced[i].time, 0.5) == traced[i-1].time {
			continue // a jump between neighbouring float32 times: no key fits there
		}
		now := m.at(t)
		fraction := (t - from.time) / (to.time - from.time)
		for j, angle := range now.angles {
			if !m.limb.segments[j].moves {
				continue
			}
			between := slerp(m.key(from.angles[j]), m.key(to.angles[j]), fraction)
			worst = max(worst, turn(between, m.limb.turnedBy(angle)))
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
	return storedRotation(l.turnedBy(angle))
}

// turnedBy is a segment's rotation in the joint's frame.
func (l *limb) turnedBy(angle float64) quat.Number {
	return l.placed(twist.About(l.axis, l.sense*angle))
}

// channel is an animation channel to be added: what of which node moves, and how.
type channel struct {
	node          int
	path          gltf.TRSProperty
	input, output int
	interpolation gltf.Interpolation
}

// storeCurve writes a curve's accessors. All segments of a limb share their
// times.
func (s *splitter) storeCurve(l *limb, c curve) []channel {
	input := s.storeTimes(c.keys)
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
		out = append(out, channel{node: seg.node, path: gltf.TRSRotation, input: input, output: output, interpolation: interpolation})
	}
	return out
}

// storeTimes writes the accessor of the times of keys.
func (s *splitter) storeTimes(keys []sample) int {
	var times []byte
	for _, key := range keys {
		times = binary.LittleEndian.AppendUint32(times, math.Float32bits(float32(key.time)))
	}
	first, last := keys[0].time, keys[len(keys)-1].time
	return s.patch.addAccessor(gltf.Accessor{
		ComponentType: gltf.ComponentFloat, Type: gltf.AccessorScalar, Count: len(keys),
		Min: []float64{first}, Max: []float64{last},
	}, gltf.TargetNone, times)
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
				Sampler: len(samplers), Target: gltf.AnimationChannelTarget{Node: &node, Path: a.path},
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
			"%s: near %.3f s the bone points straight away from its centre, to %.1f degrees; its segments roll fast there",
			where, m.worstTime, 4*math.Atan2(m.worstCondition, math.Sqrt(1-m.worstCondition*m.worstCondition)+1)*180/math.Pi))
	}
	var flips []jump
	for _, j := range m.jumps {
		if steps(tracks, j.time) {
			continue
		}
		flips = append(flips, j)
	}
	if len(flips) > 0 {
		more := ""
		if n := len(flips) - 1; n > 0 {
			more = fmt.Sprintf(" (and %d times more)", n)
		}
		s.warnings = append(s.warnings, fmt.Sprintf(
			"%s: at %.3f s its twist passes half a turn and segments flip by up to %.0f degrees%s",
			where, flips[0].time, flips[0].angle*180/math.Pi, more))
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
