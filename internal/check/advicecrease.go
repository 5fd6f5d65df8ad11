package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/pronate/pronate/chain/asset"
)

// How deep skin may lie in skin at a closed hinge (common practice, no source):
// in metres, and as a part of the bone where lengths are not metres.
const (
	tolerable       = 0.005
	tolerableOfBone = 1. / 60 // 5 mm of a forearm
)

func (f *Findings) tolerable(fold Fold) float64 {
	if f.InMetres() {
		return tolerable
	}
	return tolerableOfBone * fold.Length
}

// creaseKey is the limb file's key.
const creaseKey = "crease"

// creaseSteps are how far creases are tried to move skin beyond what they do already,
// as parts of the overlap.
var creaseSteps = []float64{.25, .5, 1, 1.5, 2}

// hinges are closed hinges that fold alike and are eased alike: those of the two sides.
type hinges struct {
	folds []int
	sides []side
	steps []int // to try, the first the best
}

// side is a limb that can be eased out of a fold.
type side struct {
	limb   string
	crease asset.Crease // as it is set; its Most is 0 where none is
	most   float64      // metres that it may have
}

// with is the setting that moves skin by so many metres more.
func (s side) with(more float64) Setting {
	crease := s.crease
	crease.Most = rounded(min(crease.Most+more, s.most))
	value := fmt.Sprintf("{at: %s, most_m: %v}", crease.At, crease.Most)
	if crease.OnsetDeg != 0 || crease.FullDeg != 0 {
		value = fmt.Sprintf("{at: %s, most_m: %v, onset_deg: %v, full_deg: %v}", crease.At, crease.Most, crease.OnsetDeg, crease.FullDeg)
	}
	return Setting{Limb: s.limb, Key: creaseKey, Value: value, apply: func(l *asset.LimbSpec) { l.Crease = &crease }}
}

// rounded is a length that a person writes: two digits.
func rounded(x float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(x))-1)
	return math.Round(x/step) * step
}

// sides are the limbs on either side of a fold that may ease it; a limb has but one
// crease.
func (c *inspection) sides(now *advised, fold Fold) (out []side) {
	add := func(s asset.LimbSpec, length float64, at string) {
		crease := asset.Crease{At: at}
		if s.Crease != nil {
			crease = *s.Crease
		}
		most := 0.45 * length // a limb file may have half of the bone
		if crease.At != at || crease.Most >= most {
			return
		}
		// What cannot have a crease says so.
		s.Crease = &asset.Crease{At: at, Most: most / 2}
		if _, err := asset.Resolve(c.file, []asset.LimbSpec{s}); err == nil {
			out = append(out, side{limb: s.Name, crease: crease, most: most})
		}
	}
	node := c.before.Node(fold.Joint)
	for i, l := range c.limbs {
		switch l.Joint {
		case c.all[fold.limb].Joint:
			add(now.chosen[i], l.Length, asset.CreaseAtEnd)
		case node:
			add(now.chosen[i], l.Length, asset.CreaseAtRoot)
		}
	}
	return out
}

// foldsToEase are the hinges whose skin intersects itself, and the joints of those
// beside which no limb can be eased.
func (c *inspection) foldsToEase(now *advised) (groups []*hinges, without []string) {
	taken := map[string]bool{}
	byKind := map[string]*hinges{}
	for i, fold := range c.findings.Folds {
		overlap := now.folds[i].overlap
		if overlap <= c.findings.tolerable(fold) {
			continue
		}
		sides := slices.DeleteFunc(c.sides(now, fold), func(s side) bool { return taken[s.limb] })
		if len(sides) == 0 {
			without = append(without, fold.Joint)
			continue
		}
		kind := ""
		for _, s := range sides {
			taken[s.limb] = true
			kind += neutral(s.limb) + fmt.Sprint(s.crease)
		}
		g := byKind[kind]
		const near = 1.2
		if g == nil || overlap > near*now.folds[g.folds[0]].overlap || near*overlap < now.folds[g.folds[0]].overlap {
			g = &hinges{}
			byKind[kind] = g
			groups = append(groups, g)
		}
		g.folds, g.sides = append(g.folds, i), append(g.sides, sides...)
	}
	return groups, without
}

// deepest is the greatest overlap of the group's hinges.
func (g *hinges) deepest(m *measurement) (deepest float64, fold int) {
	for _, i := range g.folds {
		if m.folds[i].overlap > deepest {
			deepest, fold = m.folds[i].overlap, i
		}
	}
	return deepest, fold
}

// settings are those of a step.
func (g *hinges) settings(now *advised, step int) (set []Setting) {
	overlap, _ := g.deepest(now.measurement)
	for _, s := range g.sides {
		set = append(set, s.with(creaseSteps[step]*overlap))
	}
	return set
}

// adviseCreases tries creases at the hinges whose skin intersects itself when closed.
func (c *inspection) adviseCreases(now *advised) (*advised, error) {
	groups, failed := c.foldsToEase(now)
	if len(groups) > 0 {
		if err := c.tryCreases(now, groups); err != nil {
			return nil, err
		}
	}
	var all []Setting
	for _, g := range groups {
		if len(g.steps) > 0 {
			all = append(all, g.settings(now, g.steps[0])...)
		}
	}
	// All at once first: mostly that will do.
	next := c.eased(now, all, groups)
	for _, g := range groups {
		start := now
		var set []Setting
		if next != nil {
			if len(g.steps) > 0 {
				set = g.settings(start, g.steps[0])
			}
		} else {
			for _, step := range g.steps {
				try := g.settings(start, step)
				if better := c.eased(start, try, []*hinges{g}); better != nil {
					set, now = try, better
					break
				}
			}
		}
		if set == nil {
			for _, i := range g.folds {
				failed = append(failed, c.findings.Folds[i].Joint)
			}
			continue
		}
		is := now
		if next != nil {
			is = next
		}
		c.sayCrease(g, set, start, is)
	}
	if next != nil {
		now = next
	}
	if len(failed) > 0 {
		c.findings.Advice = append(c.findings.Advice, Advice{Text: fmt.Sprintf(
			"Skin intersects itself at %s when closed. No crease that was tried reduces this without raising the strain of the skin or another figure.", strings.Join(failed, ", "))})
	}
	return now, nil
}

// eased tries settings, which have to help every hinge that has any; nil where they do
// not.
func (c *inspection) eased(now *advised, set []Setting, groups []*hinges) *advised {
	if len(set) == 0 {
		return nil
	}
	next := c.with(now, set, now.influences)
	if next == nil || c.worsened(now.measurement, next.measurement) != "" {
		return nil
	}
	for _, g := range groups {
		if len(g.steps) > 0 && !g.helps(now.measurement, next.measurement) {
			return nil
		}
	}
	return next
}

// helps reports whether every hinge of the group gains something worthwhile.
func (g *hinges) helps(was, is *measurement) bool {
	for _, i := range g.folds {
		if is.folds[i].overlap > (1-worthwhile)*was.folds[i].overlap {
			return false
		}
	}
	return true
}

// tryCreases closes the hinges with every step of all creases, without clips, and
// leaves for each group the steps that help, the best first.
func (c *inspection) tryCreases(now *advised, groups []*hinges) error {
	bare, err := asset.WithoutClips(c.file)
	if err != nil {
		return err
	}
	if bare, err = asset.AddClip(bare, clipOf(bare, c.closings)); err != nil {
		return err
	}
	found := make([]*measurement, len(creaseSteps))
	for step := range creaseSteps {
		var set []Setting
		for _, g := range groups {
			set = append(set, g.settings(now, step)...)
		}
		split, _, err := asset.Split(bare, asset.Options{Limbs: c.applied(now.chosen, set), AsAsked: true, Basis: c.options.Basis, Influences: now.influences})
		if err != nil {
			return err
		}
		e, err := split.Evaluator()
		if err != nil {
			return err
		}
		found[step] = &measurement{after: e}
		if err := c.closeIn(found[step], 0, c.closings); err != nil {
			return err
		}
	}
	for _, g := range groups {
		g.choose(now.measurement, found)
	}
	return nil
}

// choose orders the steps that help: first the smallest of those that are nearly as
// good as the best, then the next smaller one.
func (g *hinges) choose(was *measurement, found []*measurement) {
	const nearly = 0.1 // of what the best gains
	before, _ := g.deepest(was)
	best := before
	var help []int
	for step, m := range found {
		fine := g.helps(was, m)
		for _, i := range g.folds {
			fine = fine && m.folds[i].strain <= (1+tolerated)*was.folds[i].strain
		}
		if fine {
			help = append(help, step)
			after, _ := g.deepest(m)
			best = min(best, after)
		}
	}
	for k, step := range help {
		if after, _ := g.deepest(found[step]); after <= best+nearly*(before-best) {
			g.steps = []int{step}
			if k > 0 {
				g.steps = append(g.steps, help[k-1])
			}
			return
		}
	}
}

// sayCrease puts what was found into words.
func (c *inspection) sayCrease(g *hinges, set []Setting, was, is *advised) {
	f := &c.findings
	before, worst := g.deepest(was.measurement)
	after := is.folds[worst].overlap
	var joints, writes, values []string
	for _, i := range g.folds {
		joints = append(joints, f.Folds[i].Joint)
	}
	for _, s := range set {
		if !slices.Contains(values, s.Value) {
			values = append(values, s.Value)
			writes = append(writes, fmt.Sprintf("%q for %s", creaseKey+": "+s.Value, names(set, creaseKey, s.Value)))
		}
	}
	fold := f.Folds[worst]
	f.Advice = append(f.Advice, Advice{
		Text: fmt.Sprintf("Skin intersects itself by %s at %s, closed by %.0f degrees. Write %s into the limb file: it falls to %s.",
			f.Distance(before, fold.Length), strings.Join(joints, ", "), fold.Flexion, strings.Join(writes, ", and "), f.Distance(after, fold.Length)),
		Set: set, Figure: fmt.Sprintf(figureOverlap, fold.Joint), Before: before, After: after,
	})
}

// Distance writes a distance at a limb for a person.
func (f *Findings) Distance(metres, limb float64) string {
	if f.InMetres() {
		return fmt.Sprintf("%.1f mm", 1000*metres)
	}
	return fmt.Sprintf("%.1f %% of the limb's length", 100*metres/limb)
}
