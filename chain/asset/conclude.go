package asset

import (
	"fmt"
	"slices"
	"strings"
)

// conclude measures a limb's plan once more, now that all are decided, and puts it
// into words.
func (c *chooser) conclude(s *subject) (Choice, error) {
	choice, p := c.choices[s.number], c.plans[s.number]
	choice.Poses = len(s.moments)
	if len(s.skin.triangles) == 0 || len(s.moments) == 0 {
		if numberIsOpen(s.spec) {
			choice.Reason = "it stays as it is: it moves no skin"
			if len(s.skin.triangles) > 0 {
				choice.Reason = "it stays as it is: no pose twists it"
			}
			return choice, nil
		}
		p = c.first[s.number]
	}
	which := everything(len(s.moments))
	if err := c.setUnsplit(s); err != nil {
		return choice, err
	}
	if !p.isSplit() {
		choice.Reason = "it stays as it is: " + c.whyNot(s)
		return choice, nil
	}
	split, err := c.try(s, p, which)
	if err != nil {
		return choice, err
	}
	v := c.judge(s, which, split)
	choice.WorsePoses = v.worse
	choice.Split, choice.Segments, choice.Field = true, p.segments, p.field
	if p.left != "" {
		choice.Left = strings.Split(p.left, pieceSeparator)
	}
	if v.best >= 0 {
		best := c.strained(s, which[v.best], split[v.best])
		choice.Best = &best
	}
	if v.worst >= 0 {
		worst := c.strained(s, which[v.worst], split[v.worst])
		choice.Worst = &worst
	}
	switch {
	case v.worse > 0:
		choice.Reason = fmt.Sprintf("split as the limb file asks, though the skin is worse in %d of %d poses, most at %s: strain %s, split %s", v.worse, len(which), choice.Worst.Pose, perCent(choice.Worst.Source), perCent(choice.Worst.Split))
	case choice.Best != nil:
		choice.Reason = fmt.Sprintf("most gained at %s: strain %s, split %s", choice.Best.Pose, perCent(choice.Best.Source), perCent(choice.Best.Split))
	default:
		choice.Reason = "split as the limb file asks, though no pose gains"
	}
	choice.Resolved = c.resolved(s, p)
	return choice, nil
}

// whyNot says why no plan would do, by the trial that came nearest.
func (c *chooser) whyNot(s *subject) string {
	nearest, found := Trial{}, false
	for _, t := range c.choices[s.number].Tried {
		if !found || t.excess < nearest.excess {
			nearest, found = t, true
		}
	}
	switch {
	case !found:
		return "no plan was tried"
	case nearest.Worse == 0 && nearest.Better == 0:
		return "a split gains nothing in any pose"
	case nearest.Worse == 0 && c.hasTwin(s):
		return "the limb on the other side would be worse or gain nothing, and both sides are split alike"
	case nearest.Worse == 0:
		return fmt.Sprintf("a split gains less than %.0f %% in any pose", 100*betterBy)
	}
	text := fmt.Sprintf("split, the skin would be worse, most at %s: strain %s, split %s", nearest.Worst.Pose, perCent(nearest.Worst.Source), perCent(nearest.Worst.Split))
	if r := nearest.Worst; r.SourceRadius-r.SplitRadius > narrowerBy {
		text += fmt.Sprintf(", radius %.0f %%, split %.0f %%", 100*r.SourceRadius, 100*r.SplitRadius)
	}
	return text
}

func perCent(strain float64) string { return fmt.Sprintf("%.3f %%", 100*strain) }

// hasTwin reports whether a limb is decided together with another.
func (c *chooser) hasTwin(s *subject) bool {
	return slices.ContainsFunc(c.groups(), func(group []*subject) bool { return len(group) > 1 && slices.Contains(group, s) })
}

// resolved is a limb with all of its settings given.
func (c *chooser) resolved(s *subject, p plan) LimbSpec {
	l := s.solved[p]
	if l == nil {
		l = s.limb
	}
	spec := l.resolved()
	if p.left != "" {
		spec.Exclude = spec.Exclude.withPieces(strings.Split(p.left, pieceSeparator))
	}
	return spec
}
