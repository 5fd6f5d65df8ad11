package check

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"github.com/qmuntal/gltf"
	"gonum.org/v1/gonum/spatial/r3"
)

type animation = gltf.Animation

// Options are what a check can be told.
type Options struct {
	Limbs      []asset.LimbSpec // nil: what detection proposes
	AsAsked    bool             // split every limb with the settings that it has, as asset.Options has it
	Basis      skin.Basis
	Influences int // 0 means 4
	// Progress, where it is not nil, is told how much of the work is done.
	Progress func(done, total int)
}

// inspection carries one check from step to step.
type inspection struct {
	file     *asset.File
	options  Options
	asked    []asset.LimbSpec // the limb file's, or those of detection
	chosen   []asset.LimbSpec // of those, the limbs that are split, with all settings
	all      []asset.LimbInfo // as asked
	limbs    []asset.LimbInfo // as chosen
	poses    []planned
	closings []planned // of hinges: one a fold
	gauges   []*gauge  // of limbs
	strains  *strainer
	posed    *asset.File // the source with the poses as its last clip
	before   *asset.Evaluator
	clips    []frames  // of the character's own clips
	mesh     skin.Mesh // of before, at rest
	base     *measurement
	findings Findings
	done     int
	total    int
}

// Run checks a character that has not been split: it decides what to split as
// [asset.Split] does, and measures what that writes.
func Run(f *asset.File, o Options) (*Findings, error) {
	c := &inspection{file: f, options: o}
	c.options.Influences = cmp.Or(o.Influences, 4)
	// Lists in JSON, not nulls.
	c.findings = Findings{
		Limbs: []Limb{}, NotSplit: []NotSplit{}, Poses: []Pose{}, Tradeoff: []Count{}, Advice: []Advice{},
		Hinges: []asset.HingeReport{}, Folds: []Fold{},
	}
	steps := []func() error{
		c.resolve, c.findHinges, c.split, c.measureClips, c.measurePoses, c.measureFolds, c.weighCounts, c.advise,
	}
	c.total = len(steps) + len(counts)
	for _, step := range steps {
		if err := step(); err != nil {
			return nil, err
		}
		c.advance(1)
	}
	c.conclude()
	return &c.findings, nil
}

// advance counts steps of work done. Numbers of segments are steps too.
func (c *inspection) advance(n int) {
	c.done += n
	if c.options.Progress != nil {
		c.total = max(c.total, c.done)
		c.options.Progress(c.done, c.total)
	}
}

// resolve decides what is split, and plans the poses of those limbs.
func (c *inspection) resolve() error {
	c.asked = c.options.Limbs
	if c.asked == nil && c.file.HasSkin() {
		detected, err := asset.Detect(c.file)
		if err != nil {
			return err
		}
		if c.asked = detected.Limbs; len(c.asked) == 0 {
			c.options.Limbs, c.asked = []asset.LimbSpec{}, []asset.LimbSpec{}
			for _, skipped := range detected.Skipped {
				c.findings.Warnings = append(c.findings.Warnings, fmt.Sprint(skipped))
			}
		}
	}
	chosen, choices, err := c.choose(c.options.Limbs, c.options.Influences)
	if err != nil {
		return err
	}
	c.chosen = chosen
	if c.all, err = asset.Resolve(c.file, c.asked); err != nil {
		return err
	}
	if c.limbs, err = asset.Resolve(c.file, c.chosen); err != nil {
		return err
	}
	for _, choice := range choices {
		if !choice.Split {
			c.findings.NotSplit = append(c.findings.NotSplit, NotSplit{Limb: choice.Limb, Joint: choice.Joint, Reason: choice.Reason})
		}
	}
	c.poses = plan(c.limbs)
	return nil
}

// choose decides what is split, as a split with these limbs does; nil are those of
// detection.
func (c *inspection) choose(asked []asset.LimbSpec, influences int) ([]asset.LimbSpec, []asset.Choice, error) {
	if c.options.AsAsked && asked != nil {
		limbs, err := asset.Resolve(c.file, asked)
		specs := []asset.LimbSpec{}
		for _, l := range limbs {
			specs = append(specs, l.Resolved()) // for files that have the poses as clips
		}
		return specs, nil, err
	}
	limbs, choices, err := asset.Choose(c.file, nil, asset.Options{Limbs: asked, Basis: c.options.Basis, Influences: influences})
	return limbs.Limbs, choices, err
}

// split puts the poses into the character and splits it.
func (c *inspection) split() (err error) {
	c.posed = c.file
	if poses := slices.Concat(c.poses, c.closings); len(poses) > 0 {
		if c.posed, err = asset.AddClip(c.file, clipOf(c.file, poses)); err != nil {
			return err
		}
	}
	if c.before, err = c.posed.Evaluator(); err != nil {
		return err
	}
	if c.mesh, err = c.before.Mesh(); err != nil {
		return err
	}
	c.strains = newStrainer(c.mesh)
	c.findings.Size = longestSide(c.mesh.Positions)
	if c.base, err = c.splitAs(c.chosen, c.options.Influences); err != nil {
		return err
	}
	for i, l := range c.limbs {
		g, err := newGauge(c.mesh, l)
		if err != nil {
			return fmt.Errorf("%s: %w", c.file.Name, err)
		}
		c.gauges = append(c.gauges, g)
		c.findings.Limbs = append(c.findings.Limbs, c.limb(l, g, c.base.report.Limbs[i]))
	}
	c.findings.weightMoved = mostWeightMoved(c.base.report)
	for _, l := range c.base.report.Limbs {
		if l.WeightMovedMax > mostMoved {
			c.findings.Warnings = append(c.findings.Warnings, fmt.Sprintf("limb %q: %.0f %% of a vertex's weight moved, since it has too few influences", l.Name, 100*l.WeightMovedMax))
		}
	}
	// Excursions in the poses that were put in say nothing about the character.
	for _, e := range c.base.report.Excursions {
		if e.Clip != c.clipName() {
			e.FlexionDeg, e.AbductionDeg = e.FlexionDeg+0, e.AbductionDeg+0 // never -0
			c.findings.Beyond = append(c.findings.Beyond, e)
		}
	}
	c.findings.Before, c.findings.After = c.before, c.base.after
	return nil
}

// mostMoved is how much of a vertex's weight may move before a warning.
const mostMoved = 0.1

// limb is what is reported of a limb.
func (c *inspection) limb(l asset.LimbInfo, g *gauge, split asset.LimbReport) Limb {
	out := Limb{
		Name: l.Spec.Name, Joint: l.Spec.Joint, Segments: l.Solver.Segments, Worst: -1, End: l.Spec.End.Joint, Length: l.Length,
		Field: l.FieldName, crowded: map[int]bool{}, Around: around(c.file, l.Joint), RadiusAtTwist: unknown, VolumeAtTwist: unknown,
	}
	for _, asked := range c.all {
		if asked.Joint == l.Joint {
			out.Range = rangeOf(asked)
		}
	}
	out.From, out.To = g.cutFrom(c.mesh.Positions)
	// The clips that it came with, and not the poses put in, which come last.
	for k, twist := range split.ClipTwistsDeg[:len(c.file.Doc.Animations)] {
		out.ClipsTwist = max(out.ClipsTwist, twist)
		out.ClipsKeyIt = out.ClipsKeyIt || split.ClipKeyed[k]
	}
	return out
}

// clipName is the clip of the poses, which is the last; empty where there is none.
func (c *inspection) clipName() string {
	if c.posed == c.file {
		return ""
	}
	names := c.before.Clips()
	return names[len(names)-1]
}

// conclude finds each limb's worst pose and puts the whole into words.
func (c *inspection) conclude() {
	f := &c.findings
	for i := range f.Limbs {
		for k, p := range f.Poses {
			if p.Limb == f.Limbs[i].Name && (f.Limbs[i].Worst < 0 || p.Before.Strain > f.Poses[f.Limbs[i].Worst].Before.Strain) {
				f.Limbs[i].Worst = k
			}
		}
	}
	slices.SortStableFunc(f.Beyond, func(a, b asset.Excursion) int { return cmp.Compare(b.BeyondDeg, a.BeyondDeg) })
	f.tally(len(c.clips))
	f.Remarks = f.remarks()
}

// posedAt is the skin at a time of a clip.
func posedAt(e *asset.Evaluator, clip int, t float64) []r3.Vec { return e.Vertices(e.World(clip, t)) }
