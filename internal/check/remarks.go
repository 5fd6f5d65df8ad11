package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/pronate/pronate/chain/asset"
)

// tellBackward is from how many degrees on a hinge is told of that goes back past
// its rest: less is what fitting its axis leaves.
const tellBackward = asset.DefaultHingeTolerance * 180 / math.Pi

// tellUncut is from what part of the bone on it is told that no section goes
// round its ends.
const tellUncut = 0.05

// remarks are what to know when reading the figures.
func (f *Findings) remarks() (out []string) {
	cut, dashes := newGroups(), newGroups()
	for _, l := range f.Limbs {
		if l.From > tellUncut {
			cut.add(fmt.Sprintf("nearer the root than at %s of the bone", percent(l.From)), l.Name)
		}
		if l.To < 1-tellUncut {
			cut.add(fmt.Sprintf("nearer the end than at %s of the bone", percent(l.To)), l.Name)
		}
		poses, missing := 0, 0
		for _, p := range f.Poses {
			if p.Limb != l.Name {
				continue
			}
			poses++
			if p.lacks() {
				missing++
			}
		}
		if missing > 0 {
			dashes.add(fmt.Sprintf("in %d of %d poses", missing, poses), l.Name)
		}
	}
	say := func(key, names string) string { return names + " " + key }
	if len(cut.keys) > 0 {
		out = append(out, "no section goes round "+cut.text(say)+": what is lost there is in no figure")
	}
	if len(dashes.keys) > 0 {
		out = append(out, "sections, volume or twist of the skin could not be measured, which a dash shows, of "+dashes.text(say)+": the mesh cannot be cut or closed well there")
	}
	return append(append(out, f.offHinge()...), f.backward()...)
}

// offHinge names the hinges that clips turn about other axes, and limbs that they take
// out of their range of motion.
func (f *Findings) offHinge() (out []string) {
	var hinges, limbs []string
	for _, h := range f.Hinges {
		if !h.Clean {
			hinges = append(hinges, h.Joint)
		}
	}
	for _, e := range f.Beyond {
		if !slices.Contains(limbs, e.Limb) {
			limbs = append(limbs, e.Limb)
		}
	}
	if hinges != nil {
		out = append(out, "clips turn these off their hinge, as the table of hinges says: "+strings.Join(hinges, ", "))
	}
	if limbs != nil {
		out = append(out, "clips leave the range of motion of "+strings.Join(limbs, ", ")+": the field of swings is smooth within the range only")
	}
	return out
}

// lacks tells of a pose of which not all could be measured.
func (p Pose) lacks() bool {
	for _, loss := range []Loss{p.Before, p.After} {
		if !isNumber(loss.Radius) || !isNumber(loss.Volume) || p.Kind != Corner && !isNumber(loss.Steepest) {
			return true
		}
	}
	return false
}

// backward tells of hinges that go back past their rest.
func (f *Findings) backward() (out []string) {
	for _, h := range f.Hinges {
		var worst asset.HingeClip
		for _, clip := range h.Clips {
			if clip.HyperextensionDeg > worst.HyperextensionDeg {
				worst = clip
			}
		}
		if worst.HyperextensionDeg <= tellBackward {
			continue
		}
		beyond := worst.HyperextensionDeg - h.RestBendDeg
		text := fmt.Sprintf("%s bends up to %.0f degrees back past its rest in %s", h.Joint, worst.HyperextensionDeg, worst.Clip)
		if beyond > tellBackward {
			text = fmt.Sprintf("%s bends up to %.0f degrees beyond straight in %s", h.Joint, beyond, worst.Clip)
		}
		out = append(out, text+fmt.Sprintf("; at rest its bones are bent by %.0f degrees", h.RestBendDeg))
	}
	return out
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
