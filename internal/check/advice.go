package check

import (
	"fmt"
	"slices"
	"strings"
)

// advice is what to do next.
func (c *inspection) advice() (out []string) {
	f := &c.findings
	out = append(f.worsened(), f.numbers(c.options.Influences)...)
	if len(f.Warnings) > 0 && c.options.Influences != mostInfluences {
		out = append(out, "Split with --influences 8: some vertices have no room for their segments.")
	}
	for _, h := range f.Hinges {
		if !h.Clean {
			out = append(out, fmt.Sprintf("%s turns off its hinge: mend the clips that the table of hinges names.", h.Joint))
		}
	}
	out = append(out, c.creases()...)
	if len(f.Beyond) > 0 {
		out = append(out, "Clips leave the range of motion: give the joint a wider range in the limb file, or mind the roll there.")
	}
	if limbs := f.collapsed(); limbs != nil {
		out = append(out, fmt.Sprintf("Split, these still lose more than %s of their radius in some pose: %s. Look at those poses in the table: where one joint leaves no more, the bend, the weights or the mesh are the cause.",
			percent(1-lost), strings.Join(limbs, ", ")))
	}
	if len(out) == 0 {
		out = append(out, "Nothing: split it as it is.")
	}
	return out
}

const mostInfluences = 8

// worthTelling is how much of the radius a split has to cost where the limb
// bends as well: segments move the twist along the bone there, into the fold or
// out of it, and a few per cent either way are no fault of theirs (common
// practice, no source).
const worthTelling = 0.03

// worsened names the limbs that splitting makes narrower, each where it does so
// most.
func (f *Findings) worsened() (out []string) {
	for _, l := range f.Limbs {
		most := Pose{}
		for _, p := range f.Poses {
			loss := p.Before.Radius - p.After.Radius
			if p.Kind == Corner && loss < worthTelling {
				continue
			}
			if p.Limb == l.Name && p.outcome() == worse && loss > most.Before.Radius-most.After.Radius {
				most = p
			}
		}
		if most.Limb == "" {
			continue
		}
		why := "the mesh is coarse there or its weights do not hand over inside the limb; leave it out or look at it"
		if l.Enough > l.Segments {
			why = fmt.Sprintf("%d segments are too few", l.Segments)
		}
		out = append(out, fmt.Sprintf("%s: narrower when split than with one joint %s (%s instead of %s): %s.",
			l.Name, most.where, percent(most.After.Radius), percent(most.Before.Radius), why))
	}
	return out
}

// collapsed names the limbs that still lose too much.
func (f *Findings) collapsed() (limbs []string) {
	for _, l := range f.Limbs {
		if slices.ContainsFunc(f.Poses, func(p Pose) bool { return p.Limb == l.Name && p.After.Radius < lost }) {
			limbs = append(limbs, l.Name)
		}
	}
	return limbs
}

// numbers tells of limbs with too few segments for the greatest twist, and what
// the clips need. Limbs that want the same number are told of together.
func (f *Findings) numbers(influences int) (out []string) {
	for _, n := range counts {
		limbs := newGroups()
		crowded := false
		for _, l := range f.Limbs {
			if l.Enough == n && n > l.Segments {
				limbs.add(l.clipsNeed(), l.Name)
				crowded = crowded || l.crowded[n]
			}
		}
		if len(limbs.keys) == 0 {
			continue
		}
		room := ""
		if crowded && influences != mostInfluences {
			room = ", and --influences 8, for some vertices have no room for so many"
		}
		out = append(out, fmt.Sprintf("%d segments (\"segments: %d\" in the limb file%s) keep %s of the radius at a twist of %.0f degrees. These have fewer: %s.",
			n, n, room, percent(kept), weighed, limbs.text(func(need, names string) string { return names + " (" + need + ")" })))
	}
	return out
}

// clipsNeed says what the clips need of a limb.
func (l Limb) clipsNeed() string {
	switch {
	case l.ClipsTwist < 1:
		return "no twist in the clips"
	case l.EnoughForClips == 0:
		return fmt.Sprintf("clips go to %.0f degrees", l.ClipsTwist)
	}
	return fmt.Sprintf("clips go to %.0f degrees, for which %d are enough", l.ClipsTwist, l.EnoughForClips)
}

// groups are names of what is alike, in the order that they come in.
type groups struct {
	keys  []string
	names map[string][]string
}

func newGroups() groups { return groups{names: map[string][]string{}} }

func (g *groups) add(key, name string) {
	if g.names[key] == nil {
		g.keys = append(g.keys, key)
	}
	g.names[key] = append(g.names[key], name)
}

// text joins the groups as a person reads them.
func (g *groups) text(one func(key, names string) string) string {
	var out []string
	for _, key := range g.keys {
		out = append(out, one(key, strings.Join(g.names[key], ", ")))
	}
	return strings.Join(out, "; ")
}
