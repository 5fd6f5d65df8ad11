package asset

import (
	"cmp"
	"fmt"
	"hash/fnv"
	"iter"
	"maps"
	"slices"
)

// HasSkin reports whether a file shows a mesh under a skin. One without holds clips
// for a character that another file holds.
func (f *File) HasSkin() bool {
	for _, n := range f.Doc.Nodes {
		if n.Mesh != nil && n.Skin != nil {
			return true
		}
	}
	return false
}

// Choose decides how a character's limbs are split, on its own skin and clips and the
// clips of other files, whose nodes are the character's by name. The limbs that it
// gives are resolved: every file of the character that they are split by gets the same
// segments, and nothing is measured again.
//
// clips may be nil. An error that it yields ends the choice; a file whose clips cannot
// be read is passed over, for splitting it says why.
func Choose(f *File, clips iter.Seq2[*File, error], o Options) (Limbs, []Choice, error) {
	isDetected := o.Limbs == nil
	o, err := o.checked(f)
	if err != nil {
		return Limbs{}, nil, err
	}
	var others []clip
	if clips != nil {
		for other, err := range clips {
			if err != nil {
				return Limbs{}, nil, err
			}
			if found, err := other.clipsFor(f); err == nil {
				others = append(others, found...)
			}
		}
	}
	if len(others) > 0 && isDetected {
		for i := range o.Limbs { // clips there are, though not in the character's own file
			if o.Limbs[i].Range.Name == RangeNone {
				o.Limbs[i].Range.Name = RangeClips
			}
		}
	}
	limbs, choices, err := choose(f, o, others)
	choices = append(choices, skippedChoices(o.skipped)...)
	return Limbs{Version: LimbsVersion, Limbs: limbs, Resolved: true}, choices, err
}

// inOrder are clips by name, each once: what is decided on them does not depend on
// which files they come from, or in which order.
func inOrder(clips []clip) []clip {
	keys := map[*nodeTracks]uint64{}
	slices.SortStableFunc(clips, func(a, b clip) int {
		return cmp.Or(cmp.Compare(a.name, b.name), cmp.Compare(a.content(keys), b.content(keys)))
	})
	return slices.CompactFunc(clips, func(a, b clip) bool { return a.name == b.name && maps.EqualFunc(a.nodes, b.nodes, (*nodeTracks).equal) })
}

// content is a hash of a clip's keys; of equal clips it is equal. known remembers those
// of nodes.
func (c *clip) content(known map[*nodeTracks]uint64) (sum uint64) {
	for node, tracks := range c.nodes {
		hash, ok := known[tracks]
		if !ok {
			h := fnv.New64a()
			for _, k := range []*track{tracks.rotation, tracks.translation, tracks.scale} {
				if k != nil {
					fmt.Fprint(h, k.interpolation, k.times, k.values)
				}
			}
			hash = h.Sum64()
			known[tracks] = hash
		}
		sum += (hash ^ uint64(node)) * 0x9e3779b97f4a7c15 // in any order: a map has none
	}
	return sum
}

func (n *nodeTracks) equal(other *nodeTracks) bool {
	return n.rotation.equal(other.rotation) && n.translation.equal(other.translation) && n.scale.equal(other.scale)
}

func (k *track) equal(other *track) bool {
	if k == nil || other == nil {
		return k == other
	}
	return k.interpolation == other.interpolation && slices.Equal(k.times, other.times) && slices.Equal(k.values, other.values)
}

// resolvedLimbs are limbs with all that was settled about them, as a limb file.
func resolvedLimbs(limbs []*limb) Limbs {
	out := Limbs{Version: LimbsVersion, Limbs: []LimbSpec{}, Resolved: true}
	for _, l := range limbs {
		out.Limbs = append(out.Limbs, l.resolved())
	}
	return out
}

// resolved is the limb's specification with what was settled about it.
func (l *limb) resolved() LimbSpec {
	spec := l.spec.settled(l.motion, l.field)
	spec.Segments = l.solver.Segments()
	return spec
}

// clipsFor are the clips of a file as those of a character, whose nodes its own are by
// name. Nodes that the character has not, and names that several nodes have, are
// passed over.
func (f *File) clipsFor(character *File) ([]clip, error) {
	clips, err := f.clips(func(int) bool { return true })
	if err != nil {
		return nil, err
	}
	to := f.nodesOf(character)
	for i := range clips {
		nodes := map[int]*nodeTracks{}
		for node, tracks := range clips[i].nodes {
			if there, ok := to[node]; ok {
				nodes[there] = tracks
			}
		}
		clips[i].nodes = nodes
	}
	return clips, nil
}

// nodesOf maps the nodes of a file to a character's of the same names.
func (f *File) nodesOf(character *File) map[int]int {
	out := map[int]int{}
	for name, nodes := range f.named {
		if there, err := character.node(name); err == nil && len(nodes) == 1 {
			out[nodes[0]] = there
		}
	}
	return out
}

// stand is where the clips of another file meet the character: the evaluator of the
// character with those clips, and the nodes of the file by those of the character.
func (f *File) stand(character *File) (*Evaluator, map[int]int, error) {
	e, err := character.evaluator(func(int) bool { return false })
	if err != nil {
		return nil, nil, err
	}
	if e.clips, err = f.clipsFor(character); err != nil {
		return nil, nil, err
	}
	back := map[int]int{}
	for node, there := range f.nodesOf(character) {
		back[there] = node
	}
	return e, back, nil
}

// nodeFor is the file's own node for one of the character's.
func (s *splitter) nodeFor(node int, l *limb) (int, error) {
	if s.nodes == nil {
		return node, nil
	}
	if own, ok := s.nodes[node]; ok {
		return own, nil
	}
	return 0, fmt.Errorf("%s: limb %q: there is no node %q, expected the joints of %s by their names", s.patch.file.Name, l.spec.Name, s.file.ref(node), s.file.Name)
}
