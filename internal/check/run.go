package check

import (
	"cmp"
	"fmt"
	"math"
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
	Basis      skin.Basis
	Influences int
	// Progress, where it is not nil, is told how much of the work is done.
	Progress func(done, total int)
}

// inspection carries one check from step to step.
type inspection struct {
	file     *asset.File
	options  Options
	limbs    []asset.LimbInfo
	specs    []asset.LimbSpec
	poses    []planned
	gauges   []*gauge
	before   *asset.Evaluator
	after    *asset.Evaluator
	mesh     skin.Mesh // of before, at rest
	findings Findings
	done     int
	total    int
}

// Run checks a character that has not been split.
func Run(f *asset.File, o Options) (*Findings, error) {
	c := &inspection{file: f, options: o}
	// Lists in JSON, not nulls.
	c.findings.Hinges, c.findings.Folds = []asset.HingeReport{}, []Fold{}
	for _, step := range []func() error{
		c.resolve, c.findHinges, c.split, c.measurePoses, c.measureFolds, c.measureClips, c.weighCounts,
	} {
		if err := step(); err != nil {
			return nil, err
		}
		c.advance(1)
	}
	c.conclude()
	return &c.findings, nil
}

// advance counts steps of work done. Clips and numbers of segments are steps
// too.
func (c *inspection) advance(n int) {
	c.done += n
	if c.options.Progress != nil {
		c.total = max(c.total, c.done)
		c.options.Progress(c.done, c.total)
	}
}

func (c *inspection) resolve() (err error) {
	if c.limbs, err = asset.Resolve(c.file, c.options.Limbs); err != nil {
		return err
	}
	for _, l := range c.limbs {
		c.specs = append(c.specs, l.Resolved()) // for files that have the poses as clips
	}
	c.poses = plan(c.limbs)
	c.total = 7 + len(c.file.Doc.Animations) + len(counts)
	return nil
}

// split puts the poses into the character and splits it.
func (c *inspection) split() error {
	posed, err := asset.AddClip(c.file, clipOf(c.file, c.poses))
	if err != nil {
		return err
	}
	split, report, err := asset.Split(posed, asset.Options{Limbs: c.specs, Basis: c.options.Basis, Influences: c.options.Influences})
	if err != nil {
		return err
	}
	if c.before, err = posed.Evaluator(); err != nil {
		return err
	}
	if c.after, err = split.Evaluator(); err != nil {
		return err
	}
	if c.mesh, err = c.before.Mesh(); err != nil {
		return err
	}
	c.findings.Size = longestSide(c.mesh.Positions)
	for i, l := range c.limbs {
		g, err := newGauge(c.mesh, l)
		if err != nil {
			return fmt.Errorf("%s: %w", c.file.Name, err)
		}
		c.gauges = append(c.gauges, g)
		limb := Limb{
			Name: l.Spec.Name, Joint: l.Spec.Joint, Segments: l.Solver.Segments, Worst: -1, End: l.Spec.End.Joint, Length: l.Length,
			Field: l.FieldName, Range: rangeOf(l), crowded: map[int]bool{}, Around: around(c.file, l.Joint),
		}
		limb.From, limb.To = g.cutFrom(c.mesh.Positions)
		// The clips that it came with, and not the poses put in, which come last.
		for k, twist := range report.Limbs[i].ClipTwistsDeg[:len(c.file.Doc.Animations)] {
			limb.ClipsTwist = max(limb.ClipsTwist, twist)
			limb.ClipsKeyIt = limb.ClipsKeyIt || report.Limbs[i].ClipKeyed[k]
		}
		c.findings.Limbs = append(c.findings.Limbs, limb)
		if report.Limbs[i].WeightMovedMax > 0.1 {
			c.findings.Warnings = append(c.findings.Warnings, fmt.Sprintf("limb %q: %.0f %% of a vertex's weight moved, for want of influences", l.Spec.Name, 100*report.Limbs[i].WeightMovedMax))
		}
	}
	// What is said of the poses that were put in is nothing to tell.
	for _, e := range report.Excursions {
		if e.Clip != c.clipName() {
			e.FlexionDeg, e.AbductionDeg = e.FlexionDeg+0, e.AbductionDeg+0 // never -0
			c.findings.Beyond = append(c.findings.Beyond, e)
		}
	}
	c.findings.Before, c.findings.After = c.before, c.after
	return nil
}

// clipName is the clip of the poses, which is the last.
func (c *inspection) clipName() string {
	names := c.before.Clips()
	return names[len(names)-1]
}

// measurePoses measures the limbs in the poses that were put in.
func (c *inspection) measurePoses() error {
	clip := len(c.before.Clips()) - 1
	for _, p := range c.poses {
		if p.kind == bend {
			continue
		}
		c.findings.Poses = append(c.findings.Poses, c.pose(p, clip))
	}
	return nil
}

// pose measures a limb at one time of a clip.
func (c *inspection) pose(of planned, clip int) Pose {
	at := func(e *asset.Evaluator) []r3.Vec { return e.Vertices(e.World(clip, of.time)) }
	p := Pose{
		Limb: c.limbs[of.limb].Spec.Name, Name: of.name, Kind: of.kind, Clip: c.before.Clips()[clip], Number: clip + 1, Time: of.time, where: of.where,
		Before: c.gauges[of.limb].measure(at(c.before)), After: c.gauges[of.limb].measure(at(c.after)),
	}
	if of.kind == Corner {
		p.Before.Steepest, p.After.Steepest = math.NaN(), math.NaN()
	}
	p.Verdict = p.verdict()
	return p
}

// conclude finds each limb's worst pose and puts the whole into words.
func (c *inspection) conclude() {
	f := &c.findings
	for i := range f.Limbs {
		for k, p := range f.Poses {
			if p.Limb == f.Limbs[i].Name && isNumber(p.Before.Radius) && (f.Limbs[i].Worst < 0 || p.Before.Radius < f.Poses[f.Limbs[i].Worst].Before.Radius) {
				f.Limbs[i].Worst = k
			}
		}
	}
	slices.SortStableFunc(f.Beyond, func(a, b asset.Excursion) int { return cmp.Compare(b.BeyondDeg, a.BeyondDeg) })
	f.Verdict = f.overall()
	f.Remarks = f.remarks()
	f.Advice = c.advice()
}
