package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/parallel"
)

// How densely clips are looked through: frames a second, and frames of one clip. A
// longer clip is looked at less densely.
const (
	framesPerSecond = 30
	mostFrames      = 600
)

// frames are the times at which a clip is looked at, and the strain of the source.
type frames struct {
	name   string
	times  []float64
	source []float64
}

// What is remarkable about a moment of a clip.
const (
	sourceMost = "source most"
	splitMost  = "split most"
	differMost = "largest change"
)

// measureClips looks through the clips that the character came with, source and split
// both, and lists the moments at which either is strained most and at which they
// differ most.
func (c *inspection) measureClips() error {
	for clip, name := range c.before.Clips()[:len(c.file.Doc.Animations)] {
		first, last := c.before.Span(clip)
		n := int(min(math.Ceil((last-first)*framesPerSecond)+1, mostFrames))
		k := frames{name: name, times: make([]float64, n)}
		for i := range k.times {
			k.times[i] = first
			if n > 1 {
				k.times[i] += (last - first) * float64(i) / float64(n-1)
			}
		}
		c.clips = append(c.clips, k)
	}
	if len(c.limbs) == 0 {
		return nil // both are the same
	}
	for i, source := range c.strainsOf(c.before) {
		c.clips[i].source = source
	}
	c.base.clips = c.strainsOf(c.base.after)
	for clip, k := range c.clips {
		for _, m := range moments(k.source, c.base.clips[clip]) {
			t := k.times[m.frame]
			p := Pose{Name: fmt.Sprintf("%s at %.2f s", k.name, t), Kind: Clip, Moment: strings.Join(m.what, ", "), Clip: k.name, Number: clip + 1, Time: t}
			p.where, p.limb = "in "+p.Name, c.limbAt(clip, t)
			p.Limb = c.limbs[p.limb].Spec.Name
			c.findings.Poses = append(c.findings.Poses, p)
		}
	}
	return nil
}

// strainsOf is the strain in every frame of the character's own clips.
func (c *inspection) strainsOf(e *asset.Evaluator) [][]float64 {
	type job struct{ clip, frame int }
	var jobs []job
	out := make([][]float64, len(c.clips))
	for clip, k := range c.clips {
		out[clip] = make([]float64, len(k.times))
		for i := range k.times {
			jobs = append(jobs, job{clip, i})
		}
	}
	parallel.Each(len(jobs), func(i int) {
		j := jobs[i]
		out[j.clip][j.frame] = c.strains.of(posedAt(e, j.clip, c.clips[j.clip].times[j.frame]))
	})
	return out
}

// moment is a frame of a clip, and what is remarkable about it.
type moment struct {
	frame int
	what  []string
}

// moments are the frames that tell most about a clip, in the order of time, each once.
// The two differ most where the split is worse; where it never is, where it is best.
func moments(source, split []float64) []moment {
	change := make([]float64, len(source))
	for i := range change {
		change[i] = changeOf(source[i], split[i])
	}
	differ, is := greatest(change), differMost
	if outcomeOf(source[differ], split[differ]) != Worse {
		for i := range change {
			change[i] = -change[i]
		}
		differ = greatest(change)
		if outcomeOf(source[differ], split[differ]) == Same {
			is = "" // nothing differs
		}
	}
	var out []moment
	for _, m := range []struct {
		frame int
		what  string
	}{{greatest(source), sourceMost}, {greatest(split), splitMost}, {differ, is}} {
		if m.what == "" {
			continue
		}
		at := slices.IndexFunc(out, func(o moment) bool { return o.frame == m.frame })
		if at < 0 {
			at = len(out)
			out = append(out, moment{frame: m.frame})
		}
		out[at].what = append(out[at].what, m.what)
	}
	slices.SortFunc(out, func(a, b moment) int { return a.frame - b.frame })
	return out
}

// greatest is where the greatest of some values is; NaN is none.
func greatest(values []float64) (at int) {
	for i, x := range values {
		if x > values[at] || math.IsNaN(values[at]) {
			at = i
		}
	}
	return at
}

// limbAt is the limb whose skin the split changes most at a moment, and where it
// changes none, the one that is strained most.
func (c *inspection) limbAt(clip int, t float64) (limb int) {
	before, after := posedAt(c.before, clip, t), posedAt(c.base.after, clip, t)
	var change, most float64
	strained := 0
	for i, g := range c.gauges {
		x, y := c.strains.among(before, g.marks), c.strains.among(after, g.marks)
		if d := math.Abs(y - x); d > change {
			change, limb = d, i
		}
		if x > most {
			most, strained = x, i
		}
	}
	if change <= asset.StrainSlack {
		return strained
	}
	return limb
}
