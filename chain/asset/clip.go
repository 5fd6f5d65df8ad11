package asset

import (
	"fmt"
	"slices"

	"github.com/qmuntal/gltf"
)

// clip is one animation, decoded as far as it moves nodes.
type clip struct {
	name  string
	index int // in the file's animations
	nodes map[int]*nodeTracks
}

// nodeTracks are the channels that move one node; nil where there is none.
type nodeTracks struct {
	rotation, translation, scale *track
}

// clips decodes every animation. Channels that move no node (morph target
// weights, pointers of extensions) are passed over: nothing here touches them.
func (f *File) clips() ([]clip, error) {
	out := make([]clip, 0, len(f.Doc.Animations))
	for i, animation := range f.Doc.Animations {
		c := clip{name: animation.Name, index: i, nodes: map[int]*nodeTracks{}}
		if c.name == "" {
			c.name = fmt.Sprintf("#%d", i)
		}
		for j, channel := range animation.Channels {
			if channel.Target.Node == nil {
				continue
			}
			if err := f.addTrack(&c, animation, channel); err != nil {
				return nil, fmt.Errorf("%s: animation %q: channel %d: %w", f.Name, c.name, j, err)
			}
		}
		out = append(out, c)
	}
	return out, nil
}

func (f *File) addTrack(c *clip, animation *gltf.Animation, channel *gltf.AnimationChannel) error {
	tracks := c.nodes[*channel.Target.Node]
	if tracks == nil {
		tracks = &nodeTracks{}
	}
	var at **track
	width := 3
	switch channel.Target.Path {
	case gltf.TRSRotation:
		at, width = &tracks.rotation, 4
	case gltf.TRSTranslation:
		at = &tracks.translation
	case gltf.TRSScale:
		at = &tracks.scale
	default:
		return nil
	}
	if *at != nil {
		return fmt.Errorf("node %d has a second channel for %v, expected one", *channel.Target.Node, channel.Target.Path)
	}
	read, err := f.readTrack(animation.Samplers[channel.Sampler], width)
	if err != nil {
		return err
	}
	read.node, read.path = *channel.Target.Node, channel.Target.Path
	*at = read
	c.nodes[*channel.Target.Node] = tracks
	return nil
}

// readTrack decodes a sampler (glTF 2.0, section 3.11).
func (f *File) readTrack(sampler *gltf.AnimationSampler, width int) (*track, error) {
	times, err := f.floats(sampler.Input, 1)
	if err != nil {
		return nil, err
	}
	if len(times) == 0 {
		return nil, fmt.Errorf("no keys, expected one or more")
	}
	for i, t := range times {
		if t < 0 || i > 0 && t <= times[i-1] {
			return nil, fmt.Errorf("key %d is at %g s, expected times of 0 or more that grow", i, t)
		}
	}
	values, err := f.floats(sampler.Output, width)
	if err != nil {
		return nil, err
	}
	want := len(times) * width
	if sampler.Interpolation == gltf.InterpolationCubicSpline {
		want *= 3
	}
	if len(values) != want {
		return nil, fmt.Errorf("%d keys with %d output numbers, expected %d", len(times), len(values), want)
	}
	return &track{times: times, values: values, width: width, interpolation: sampler.Interpolation, input: sampler.Input, output: sampler.Output}, nil
}

// keyTimes is the sorted union of the tracks' times.
func keyTimes(tracks []*track) []float64 {
	var times []float64
	for _, k := range tracks {
		times = append(times, k.times...)
	}
	slices.Sort(times)
	return slices.Compact(times)
}
