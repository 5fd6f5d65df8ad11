package check

import (
	"fmt"
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

// How far flesh has to move for a fold of 1: relief falls off along the bone, so
// that the deepest skin moves less than the skin at the hinge. Measured on Wren's
// elbows and knees.
const (
	bySide   = 0.8 // where both sides move
	alone    = 1.4 // where only the bone before the hinge does
	enoughOf = 3   // folds; where all relief is more than so many, more does not help
)

func (f *Findings) tolerable(fold Fold) float64 {
	if f.InMetres() {
		return tolerable
	}
	return tolerableOfBone * fold.Length
}

// side is a limb that can be eased out of a fold.
type side struct {
	limb string
	at   string
	set  float64 // what it is eased by already, in metres
}

// sides are the limbs on either side of a fold that may ease it; a limb has but
// one crease.
func (c *inspection) sides(fold Fold) (out []side, hasFar bool) {
	add := func(s asset.LimbSpec, at string) {
		switch {
		case s.Crease == nil:
			out = append(out, side{limb: s.Name, at: at})
		case s.Crease.At == at:
			out = append(out, side{limb: s.Name, at: at, set: s.Crease.Most})
		}
	}
	add(c.specs[fold.limb], asset.CreaseAtEnd)
	node := c.before.Node(fold.Joint)
	for i, l := range c.limbs {
		if l.Joint == node {
			hasFar = true
			add(c.specs[i], asset.CreaseAtRoot)
		}
	}
	return out, hasFar
}

// creases is what to write for hinges that fold into themselves; those that
// fold alike are told of together.
func (c *inspection) creases() (out []string) {
	type told struct{ joints, near, far []string }
	groups := map[string]*told{}
	var order []string
	for _, fold := range c.findings.Folds {
		if fold.After <= c.findings.tolerable(fold) {
			continue
		}
		sides, hasFar := c.sides(fold)
		var set float64
		for _, s := range sides {
			set += s.set
		}
		// JOINTS, NEAR and FAR stand for names until those alike are together.
		text := fmt.Sprintf("Skin lies %s in skin at JOINTS, closed by %.0f degrees. ", c.findings.Distance(fold.After, fold.Length), fold.Flexion)
		more := alone
		if len(sides) > 1 {
			more = bySide
		}
		switch {
		case len(sides) == 0 || set > enoughOf*fold.Before:
			text += "More crease does not help there: look at the weights."
		default:
			text += "In the limb file, "
			for i, s := range sides {
				if i > 0 {
					text += ", and "
				}
				limb := "NEAR"
				if s.at == asset.CreaseAtRoot {
					limb = "FAR"
				}
				if s.set > 0 {
					text += fmt.Sprintf("raise crease most_m from %.3f to %.3f for %s", s.set, s.set+more*fold.After, limb)
				} else {
					text += fmt.Sprintf("write \"crease: {at: %s, most_m: %.3f}\" for %s", s.at, more*fold.After, limb)
				}
			}
			if text += "."; !hasFar {
				text += " That eases one side alone: the bone beyond is not in the limb file; add it there to ease both."
			}
		}
		g := groups[text]
		if g == nil {
			g = &told{}
			groups[text] = g
			order = append(order, text)
		}
		g.joints = append(g.joints, fold.Joint)
		for _, s := range sides {
			if s.at == asset.CreaseAtEnd {
				g.near = append(g.near, s.limb)
			} else {
				g.far = append(g.far, s.limb)
			}
		}
	}
	for _, text := range order {
		g := groups[text]
		names := strings.NewReplacer("JOINTS", list(g.joints), "NEAR", list(g.near), "FAR", list(g.far))
		out = append(out, names.Replace(text))
	}
	return out
}

func list(names []string) string { return strings.Join(slices.Compact(names), ", ") }

// Distance writes a distance at a limb for a person.
func (f *Findings) Distance(metres, limb float64) string {
	if f.InMetres() {
		return fmt.Sprintf("%.1f mm", 1000*metres)
	}
	return fmt.Sprintf("%.1f %% of the limb's length", 100*metres/limb)
}
