package check

import (
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/parallel"
)

// measurement is what one way to split the character was measured to do.
type measurement struct {
	report asset.Report
	after  *asset.Evaluator
	clips  [][]float64 // strain, frame by frame
	poses  []Loss
	folds  []closed
}

// splitAs splits the character with the poses in it.
func (c *inspection) splitAs(limbs []asset.LimbSpec, influences int) (*measurement, error) {
	split, report, err := asset.Split(c.posed, asset.Options{Limbs: limbs, AsAsked: true, Basis: c.options.Basis, Influences: influences})
	if err != nil {
		return nil, err
	}
	e, err := split.Evaluator()
	return &measurement{report: report, after: e}, err
}

// measure splits the character in another way and measures the moments, poses and
// folds that the findings list.
func (c *inspection) measure(limbs []asset.LimbSpec, influences int) (*measurement, error) {
	m, err := c.splitAs(limbs, influences)
	if err != nil {
		return nil, err
	}
	m.clips = c.strainsOf(m.after)
	m.poses = make([]Loss, len(c.findings.Poses))
	parallel.Each(len(m.poses), func(i int) {
		p := c.findings.Poses[i]
		m.poses[i] = c.loss(m.after, p)
	})
	return m, c.close(m)
}

// loss measures a listed pose.
func (c *inspection) loss(e *asset.Evaluator, p Pose) Loss {
	posed := posedAt(e, p.Number-1, p.Time)
	out := c.gauges[p.limb].measure(posed)
	out.Strain = c.strains.of(posed)
	if p.Kind == Corner {
		out.Steepest = unknown
	}
	return out
}

// measurePoses measures the limbs in the poses that were put in.
func (c *inspection) measurePoses() error {
	clip := len(c.before.Clips())
	for _, p := range c.poses {
		c.findings.Poses = append(c.findings.Poses, Pose{
			Limb: c.limbs[p.limb].Spec.Name, Name: p.name, Kind: p.kind, Clip: c.clipName(), Number: clip, Time: p.time, where: "at " + p.name, limb: p.limb,
		})
	}
	parallel.Each(len(c.findings.Poses), func(i int) {
		p := &c.findings.Poses[i]
		p.Before, p.After = c.loss(c.before, *p), c.loss(c.base.after, *p)
		p.Outcome = outcomeOf(p.Before.Strain, p.After.Strain)
		p.Verdict = p.verdict()
	})
	for _, p := range c.findings.Poses {
		c.base.poses = append(c.base.poses, p.After)
	}
	return nil
}
