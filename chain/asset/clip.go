package asset

import (
	"fmt"
	"slices"

	"github.com/pronate/pronate/internal/parallel"
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

// clips decodes every animation, as far as it moves the wanted nodes. Channels that
// move no node (morph target weights, pointers of extensions) are passed over:
// nothing here touches them.
func (f *File) clips(wanted func(node int) bool) ([]clip, error) {
	f.readAhead(wanted)
	out := make([]clip, 0, len(f.Doc.Animations))
	for i, animation := range f.Doc.Animations {
		c := clip{name: animation.Name, index: i, nodes: map[int]*nodeTracks{}}
		if c.name == "" {
			c.name = fmt.Sprintf("#%d", i)
		}
		for j, channel := range animation.Channels {
			if channel.Target.Node == nil || !wanted(*channel.Target.Node) {
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

// readAhead decodes what clips will ask for on all cores. What cannot be read will
// show again where it is asked for.
func (f *File) readAhead(wanted func(node int) bool) {
	var claims []*reading
	claimed := map[int]bool{}
	add := func(accessor, components int) bool {
		if claimed[accessor] {
			return true
		}
		claimed[accessor] = true
		r, err := f.claim(accessor, components)
		if err == nil {
			claims = append(claims, r)
		}
		return err == nil
	}
	for _, animation := range f.Doc.Animations {
		for _, channel := range animation.Channels {
			width := map[gltf.TRSProperty]int{gltf.TRSRotation: 4, gltf.TRSTranslation: 3, gltf.TRSScale: 3}[channel.Target.Path]
			if channel.Target.Node == nil || !wanted(*channel.Target.Node) || width == 0 {
				continue
			}
			sampler := animation.Samplers[channel.Sampler]
			if !add(sampler.Input, 1) || !add(sampler.Output, width) {
				break
			}
		}
	}
	parallel.Each(len(claims), func(i int) { f.read(claims[i]) })
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

// keyTimes is the sorted union of the tracks' times. It is not to be written to:
// tracks that all share one list of times give that list.
func keyTimes(tracks []*track) []float64 {
	var lists [][]float64
	seen := map[*float64]bool{}
	for _, k := range tracks {
		if !seen[&k.times[0]] {
			seen[&k.times[0]] = true
			lists = append(lists, k.times)
		}
	}
	if len(lists) == 1 {
		return lists[0]
	}
	times := slices.Concat(lists...)
	slices.Sort(times)
	return slices.Compact(times)
}
