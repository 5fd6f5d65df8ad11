package check

import (
	"fmt"
	"slices"
	"strings"

	"github.com/pronate/pronate/chain/asset"
)

// Advice is one thing to do next. Every setting was tried before it is advised: it
// improves the figure, and worsens no other that the check lists by more than 1 %.
// Advice builds on the advice before it.
type Advice struct {
	Text string `json:"text"`
	// Set are the settings to write into the limb file or, without a limb, onto the
	// command line; none where nothing that was tried helps.
	Set []Setting `json:"set"`
	// Figure is what the advice is about, as [Findings.Figures] names it, before and
	// after; empty without settings.
	Figure string  `json:"figure,omitempty"`
	Before float64 `json:"before,omitempty"`
	After  float64 `json:"after,omitempty"`
}

// Setting is a key of a limb in the limb file, or an option of the command line.
type Setting struct {
	Limb  string `json:"limb,omitempty"`
	Key   string `json:"key"`
	Value string `json:"value"`

	apply func(*asset.LimbSpec) // nil for an option
}

// advised is how the character is split with the advice given so far.
type advised struct {
	asked, chosen []asset.LimbSpec
	influences    int
	*measurement
}

const mostInfluences = 8

// advise finds out what to do next.
func (c *inspection) advise() error {
	f := &c.findings
	if len(c.limbs) == 0 {
		f.Advice = []Advice{{Text: "Nothing: no limb gains by a split, and split leaves the character as it is.", Set: []Setting{}}}
		return nil
	}
	now := &advised{c.asked, c.chosen, c.options.Influences, c.base}
	for _, step := range []func(*advised) (*advised, error){c.adviseInfluences, c.adviseSegments, c.adviseCreases} {
		var err error
		if now, err = step(now); err != nil {
			return err
		}
	}
	if len(f.Advice) == 0 {
		f.Advice = append(f.Advice, Advice{Text: "Nothing to change: split it as it is."})
	}
	for i := range f.Advice {
		if f.Advice[i].Set == nil {
			f.Advice[i].Set = []Setting{}
		}
	}
	return nil
}

// with tries settings on top of the advice so far; nil where they cannot be had.
func (c *inspection) with(now *advised, set []Setting, influences int) *advised {
	next := &advised{asked: c.applied(now.asked, set), influences: influences}
	chooses := influences != now.influences
	for _, s := range set {
		chooses = chooses || s.Key != creaseKey // the choice takes no notice of a crease
	}
	next.chosen = c.applied(now.chosen, set)
	var err error
	if chooses {
		if next.chosen, _, err = c.choose(next.asked, influences); err != nil {
			return nil
		}
	}
	if next.measurement, err = c.measure(next.chosen, influences); err != nil {
		return nil
	}
	return next
}

// applied are limbs with settings of theirs.
func (c *inspection) applied(limbs []asset.LimbSpec, set []Setting) []asset.LimbSpec {
	out := slices.Clone(limbs)
	for i := range out {
		name := out[i].Name
		if name == "" {
			name = out[i].Joint
		}
		for _, s := range set {
			if s.Limb == name && s.apply != nil {
				s.apply(&out[i])
			}
		}
	}
	return out
}

// adviseInfluences tries to give crowded vertices more influences.
func (c *inspection) adviseInfluences(now *advised) (*advised, error) {
	before := mostWeightMoved(now.report)
	if before <= mostMoved || now.influences == mostInfluences {
		return now, nil
	}
	set := []Setting{{Key: "--influences", Value: fmt.Sprint(mostInfluences)}}
	next := c.with(now, set, mostInfluences)
	if next == nil || mostWeightMoved(next.report) > (1-worthwhile)*before || c.worsened(now.measurement, next.measurement) != "" {
		return now, nil
	}
	after := mostWeightMoved(next.report)
	c.findings.Advice = append(c.findings.Advice, Advice{
		Text: fmt.Sprintf("Split with --influences 8: of a vertex's weight at most %s moves for lack of influences, instead of %s.", percent(after), percent(before)),
		Set:  set, Figure: figureWeightMoved, Before: before, After: after,
	})
	return next, nil
}

func mostWeightMoved(r asset.Report) (most float64) {
	for _, l := range r.Limbs {
		most = max(most, l.WeightMovedMax)
	}
	return most
}

// neutral is a limb's name without its side: limbs of one kind are advised the same.
func neutral(name string) string {
	return strings.NewReplacer("left", "", "right", "").Replace(name)
}

// names are those of the limbs that settings are for.
func names(set []Setting, key, value string) string {
	var out []string
	for _, s := range set {
		if s.Key == key && s.Value == value {
			out = append(out, s.Limb)
		}
	}
	return strings.Join(out, ", ")
}
