package check

import (
	"fmt"
	"math"
	"sync"

	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/parallel"
	"gonum.org/v1/gonum/num/quat"
)

const (
	framesPerSecond = 10
	mostFrames      = 300 // of a clip; a longer one is looked at less densely
)

// moment is a clip's worst moment: the limb that one joint narrows most.
type moment struct {
	limb   int
	time   float64
	radius float64
}

// measureClips finds the worst moment of every clip that the character came
// with, and measures it.
func (c *inspection) measureClips() error {
	clips := c.before.Clips()
	moments := make([]moment, len(clips)-1)
	var progress sync.Mutex
	parallel.Each(len(moments), func(clip int) {
		moments[clip] = c.worstMoment(clip)
		progress.Lock()
		defer progress.Unlock()
		c.advance(1)
	})
	for clip, m := range moments {
		if m.limb < 0 {
			continue
		}
		p := planned{limb: m.limb, name: fmt.Sprintf("%s at %.2f s", clips[clip], m.time), kind: Clip, time: m.time}
		p.where = "in " + p.name
		c.findings.Poses = append(c.findings.Poses, c.pose(p, clip))
	}
	return nil
}

// worstMoment looks a clip through, one joint a bone.
func (c *inspection) worstMoment(clip int) moment {
	first, last := c.before.Span(clip)
	frames := int(min(math.Ceil((last-first)*framesPerSecond)+1, mostFrames))
	worst := moment{limb: -1, radius: math.Inf(1)}
	var sections []skin.Section
	for i := range frames {
		t := first
		if frames > 1 {
			t += (last - first) * float64(i) / float64(frames-1)
		}
		posed := c.before.Vertices(c.before.World(clip, t))
		for limb, g := range c.gauges {
			sections = g.sections.Measure(sections, posed, quat.Number{Real: 1})
			if radius, _ := narrowest(sections); radius < worst.radius {
				worst = moment{limb, t, radius}
			}
		}
	}
	return worst
}
