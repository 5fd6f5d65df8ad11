package check

import (
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/chain/asset"
)

// mostTries is how many ways to split the limbs of one kind are tried, and mostKinds
// of how many kinds.
const (
	mostTries = 4
	mostKinds = 3
)

// complaint is a pose that limbs of one kind make worse.
type complaint struct {
	limbs []string
	pose  int // the worst
	count int
}

// complaints are about the poses that are worse split, for each kind of limb.
func (c *inspection) complaints() (out []*complaint) {
	byKind := map[string]*complaint{}
	for i, p := range c.findings.Poses {
		if p.Outcome != Worse {
			continue
		}
		kind := neutral(p.Limb)
		one := byKind[kind]
		if one == nil {
			one = &complaint{pose: i}
			byKind[kind] = one
			out = append(out, one)
			for _, l := range c.findings.Limbs {
				if neutral(l.Name) == kind {
					one.limbs = append(one.limbs, l.Name)
				}
			}
		}
		one.count++
		if p.Change() > c.findings.Poses[one.pose].Change() {
			one.pose = i
		}
	}
	return out
}

// adviseSegments tries other ways to split limbs that are strained more than the
// source somewhere.
func (c *inspection) adviseSegments(now *advised) (*advised, error) {
	for i, one := range c.complaints() {
		p := c.findings.Poses[one.pose]
		before := now.poses[one.pose].Strain
		if i < mostKinds {
			if next, set := c.better(now, one); next != nil {
				after := next.poses[one.pose].Strain
				c.findings.Advice = append(c.findings.Advice, Advice{
					Text: fmt.Sprintf("Write %q for %s into the limb file: the strain %s falls from %s to %s.",
						set[0].Key+": "+set[0].Value, names(set, set[0].Key, set[0].Value), p.where, strainText(before), strainText(after)),
					Set: set, Figure: fmt.Sprintf(figureStrain, p.Limb, p.Name), Before: before, After: after,
				})
				now = next
				continue
			}
		}
		c.findings.Advice = append(c.findings.Advice, Advice{Text: fmt.Sprintf(
			"%s: strained more than the source in %d %s, most %s (%s instead of %s). No setting that was tried lowers this without raising another figure.",
			p.Limb, one.count, plural(one.count, "pose"), p.where, strainText(before), strainText(p.Before.Strain))})
	}
	return now, nil
}

// better is another way to split a complaint's limbs that improves its figure and
// worsens no other; nil where none was found.
func (c *inspection) better(now *advised, one *complaint) (*advised, []Setting) {
	was := now.poses[one.pose].Strain
	for i, set := range c.otherWays(now, one) {
		if i == mostTries {
			break
		}
		next := c.with(now, set, now.influences)
		if next != nil && next.poses[one.pose].Strain < (1-tolerated)*was-asset.StrainSlack && c.worsened(now.measurement, next.measurement) == "" {
			return next, set
		}
	}
	return nil, nil
}

// otherWays are settings to try for a complaint's limbs: first to leave the decision
// to the split, then other numbers of segments, the nearest first.
func (c *inspection) otherWays(now *advised, one *complaint) (out [][]Setting) {
	each := func(key, value string, apply func(*asset.LimbSpec)) {
		var set []Setting
		for _, name := range one.limbs {
			set = append(set, Setting{Limb: name, Key: key, Value: value, apply: apply})
		}
		out = append(out, set)
	}
	index := slices.IndexFunc(c.all, func(l asset.LimbInfo) bool { return l.Spec.Name == one.limbs[0] })
	asked := now.asked[index]
	if asked.Shares.List != nil {
		return nil // they are as many as there are segments
	}
	if asked.Segments != 0 && !c.options.AsAsked {
		each("segments", "auto", func(s *asset.LimbSpec) { s.Segments = 0 })
	}
	if asked.Field != "" && asked.Field != asset.FieldShortest && asked.Twist != asset.TwistTip {
		each("field", asset.FieldShortest, func(s *asset.LimbSpec) { s.Field = asset.FieldShortest })
	}
	segments := c.findings.Limbs[slices.IndexFunc(c.findings.Limbs, func(l Limb) bool { return l.Name == one.limbs[0] })].Segments
	numbers := slices.Clone(counts[1:])
	slices.SortStableFunc(numbers, func(a, b int) int {
		return int(math.Abs(float64(a-segments))) - int(math.Abs(float64(b-segments)))
	})
	for _, n := range numbers {
		if n != segments {
			each("segments", fmt.Sprint(n), func(s *asset.LimbSpec) { s.Segments = n })
		}
	}
	return out
}

// strainText writes a strain.
func strainText(strain float64) string { return fmt.Sprintf("%.3f %%", 100*strain) }
