package check

import (
	"fmt"
	"slices"
	"strings"
)

// How much of a section's radius has to be left (common practice, no source):
// above kept nobody sees a difference, below lost anybody does.
const (
	kept = 0.95
	lost = 0.85
)

// tolerable is how deep skin may lie in skin at a closed hinge, in metres
// (common practice, no source).
const tolerable = 0.005

// word is what a radius is called.
func word(radius float64) string {
	switch {
	case radius >= kept:
		return "holds"
	case radius >= lost:
		return "narrows"
	}
	return "collapses"
}

// verdict says in words what one joint and the segments leave of a limb.
func verdict(before, after Loss) string {
	b, a := word(before.Radius), word(after.Radius)
	switch {
	case b == "holds" && a == "holds":
		return "holds either way"
	case after.Radius > before.Radius+0.01:
		return fmt.Sprintf("one joint: %s to %s; split: %s at %s", b, percent(before.Radius), a, percent(after.Radius))
	case after.Radius < before.Radius-0.01:
		return fmt.Sprintf("worse when split: %s instead of %s", percent(after.Radius), percent(before.Radius))
	}
	return fmt.Sprintf("%s to %s either way: the bend does it, not the twist", a, percent(after.Radius))
}

func percent(part float64) string { return fmt.Sprintf("%.0f %%", 100*part) }

// overall sums the poses up.
func (f *Findings) overall() string {
	better, worse, failing := 0, 0, 0
	for _, p := range f.Poses {
		switch {
		case p.After.Radius > p.Before.Radius+0.01:
			better++
		case p.After.Radius < p.Before.Radius-0.01:
			worse++
		}
		if p.After.Radius < lost {
			failing++
		}
	}
	text := fmt.Sprintf("Of %d poses, %d are better with segments, %d worse, %d the same", len(f.Poses), better, worse, len(f.Poses)-better-worse)
	if failing > 0 {
		return text + fmt.Sprintf("; in %d a limb still loses more than %s of its radius somewhere.", failing, percent(1-lost))
	}
	return text + fmt.Sprintf("; nowhere does a limb lose more than %s of its radius.", percent(1-lost))
}

// advice is what to do next.
func (f *Findings) advice() (out []string) {
	// Limbs that want the same number are told of together.
	wants := map[int][]string{}
	for _, l := range f.Limbs {
		if n := f.enough(l.Name); n > l.Segments {
			wants[n] = append(wants[n], l.Name)
		}
	}
	for n := range 1 + slices.Max(counts) {
		if limbs := wants[n]; limbs != nil {
			out = append(out, fmt.Sprintf("%d segments keep %s of the radius at a twist of %.0f degrees; these have fewer: %s. In the limb file: \"segments: %d\".",
				n, percent(kept), twists[len(twists)-1], strings.Join(limbs, ", "), n))
		}
	}
	if len(f.Warnings) > 0 {
		out = append(out, "Split with --influences 8: some vertices have no room for their segments.")
	}
	for _, h := range f.Hinges {
		if !h.Clean {
			out = append(out, fmt.Sprintf("%s turns off its hinge: mend the clips that the table of hinges names.", h.Joint))
		}
	}
	out = append(out, f.creases()...)
	if len(f.Beyond) > 0 {
		out = append(out, "Clips leave the range of motion: give the joint a wider range in the limb file, or mind the roll there.")
	}
	if len(out) == 0 {
		out = append(out, "Nothing: split it as it is.")
	}
	return out
}

// creases is what to write for hinges that fold into themselves; those that
// fold alike are told of together.
func (f *Findings) creases() (out []string) {
	joints := map[string][]string{}
	var order []string
	for _, fold := range f.Folds {
		if fold.After <= tolerable || fold.After <= 0.5*fold.Before {
			continue
		}
		// Two sides, each by a little more than half of it.
		text := fmt.Sprintf("%.0f mm into skin at %.0f degrees. In the limb file, \"crease: {at: end, most_m: %.3f}\" on the bone before the hinge and \"crease: {at: root, most_m: %.3f}\" on the one after, where it is split, ease it.",
			1000*fold.After, fold.Flexion, 0.6*fold.After, 0.6*fold.After)
		if joints[text] == nil {
			order = append(order, text)
		}
		joints[text] = append(joints[text], fold.Joint)
	}
	for _, text := range order {
		out = append(out, "Skin folds at "+strings.Join(joints[text], ", ")+" "+text)
	}
	return out
}

// enough is the least number of segments, of those weighed, that keeps a
// limb's radius; 0 where none does.
func (f *Findings) enough(limb string) int {
	for _, c := range f.Tradeoff {
		if c.Limb == limb && c.Segments > 1 && c.Radius >= kept {
			return c.Segments
		}
	}
	return 0
}
