package asset

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"github.com/qmuntal/gltf"
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
		turns, moves := s.work(c)
		for k, l := range s.limbs {
			added = append(added, s.shape(moves[k], l, c, &sum)...)
			w := turns[k]
			l.twists, l.keyed = append(l.twists, 0), append(l.keyed, w.key != "")
			if w.key == "" {
				continue
			}
			limb, seen := s.baked[w.key]
			if !seen {
				limb = w.bakedLimb
				limb.channels = s.storeCurve(l, &limb.curve)
				limb.times, limb.values = nil, nil // they are in the file now
				s.warnings = append(s.warnings, limb.warnings...)
				s.baked[w.key] = limb
			}
			sum.keysIn += limb.keysIn
			sum.keysOut += limb.keysOut
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
	channels []channel
}

// samplersOf names a limb and all that drives it in a clip. Clips that share their
// samplers share what is baked from them.
func samplersOf(limb int, tracks []*track) string {
	var key strings.Builder
	fmt.Fprint(&key, limb)
	for _, k := range tracks {
		fmt.Fprint(&key, ";", k.node, k.path, k.input, k.output, k.interpolation)
	}
	return key.String()
}

// channel is an animation channel to be added: what of which node moves, and how.
type channel struct {
	node          int
	path          gltf.TRSProperty
	input, output int
	interpolation gltf.Interpolation
}

// storeCurve writes a curve's accessors. All segments of a limb share their
// times. A limb that is live instead has none.
func (s *splitter) storeCurve(l *limb, c *curve) []channel {
	if l.isLive() && s.options.Live == LiveInsteadOfClips {
		c.keysOut, c.worst, c.closing = 0, 0, 0
		return nil
	}
	input := s.storeTimes(c.times)
	interpolation := gltf.InterpolationLinear
	if c.step {
		interpolation = gltf.InterpolationStep
	}
	var out []channel
	for i, seg := range l.segments {
		if !seg.moves {
			continue
		}
		output := s.patch.addAccessor(gltf.Accessor{
			ComponentType: gltf.ComponentFloat, Type: gltf.AccessorVec4, Count: len(c.times),
		}, gltf.TargetNone, c.values[i])
		out = append(out, channel{node: seg.node, path: gltf.TRSRotation, input: input, output: output, interpolation: interpolation})
	}
	return out
}

// storeTimes writes the accessor of the times of keys.
func (s *splitter) storeTimes(keys []float64) int {
	times := make([]byte, 0, 4*len(keys))
	for _, t := range keys {
		times = binary.LittleEndian.AppendUint32(times, math.Float32bits(float32(t)))
	}
	return s.patch.addAccessor(gltf.Accessor{
		ComponentType: gltf.ComponentFloat, Type: gltf.AccessorScalar, Count: len(keys),
		Min: []float64{keys[0]}, Max: []float64{keys[len(keys)-1]},
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
