package asset

import (
	"fmt"
	"iter"
	"slices"
	"strconv"
	"strings"
)

// SkinParts are parts of a character's skin, chosen by any of three kinds of name.
type SkinParts struct {
	Meshes    []string // by the mesh's name, that of a node that shows it, or "#" and the mesh's index
	Materials []string // by name, or "#" and index
	Pieces    []string // connected pieces: mesh, primitive and lowest vertex, such as "Body/0/12"
}

// skinParts are the limb's, by key, in the order of a file.
func (s LimbSpec) skinParts() iter.Seq2[string, *SkinParts] {
	return func(yield func(string, *SkinParts) bool) {
		_ = yield("exclude", s.Exclude) && yield("rigid", s.Rigid)
	}
}

// selection is what SkinParts mean in a file.
type selection struct {
	worn   map[wearing]bool
	pieces map[int]bool
}

func (s selection) has(p piecePart) bool { return s.worn[p.wearing] || s.pieces[p.piece] }

// selected finds the parts that one of the limb's keys names. In a file that shows
// no skin, such as one of clips alone, there is nothing to find.
func (l *limb) selected(all *pieces, key string, parts *SkinParts) (selection, error) {
	out := selection{map[wearing]bool{}, map[int]bool{}}
	if parts == nil || len(all.worn) == 0 {
		return out, nil
	}
	missing := func(kind string, i int, name, what string, known []string) error {
		return l.spec.errorf(all.file, fmt.Sprintf("%s %s %d", key, kind, i), "%s: there is no %s %q, expected %s", key, what, name, namesShown(known))
	}
	for i, name := range parts.Meshes {
		if !out.choose(all, func(w wearing) bool { return slices.Contains(all.meshNames(w), name) }) {
			return out, missing("meshes", i, name, "skinned mesh", all.namesOf(func(w wearing) string { return all.meshName(w.mesh) }))
		}
	}
	for i, name := range parts.Materials {
		if !out.choose(all, func(w wearing) bool { return slices.Contains(all.materialNames(w), name) }) {
			return out, missing("materials", i, name, "material of the skin", all.namesOf(func(w wearing) string {
				names := all.materialNames(w)
				return strings.Join(names[:min(len(names), 1)], "")
			}))
		}
	}
	for i, name := range parts.Pieces {
		found := false
		for number, id := range all.ids { // under several skins one is worn several times
			if id == name {
				out.pieces[number], found = true, true
			}
		}
		if !found {
			var known []string
			for _, p := range l.pieces {
				known = append(known, p.id)
			}
			return out, missing("pieces", i, name, "piece", known)
		}
	}
	return out, nil
}

// choose takes the primitives that are meant, and reports whether there are any.
func (s selection) choose(all *pieces, meant func(wearing) bool) (found bool) {
	for i := range all.worn {
		if w := all.worn[i].wearing; meant(w) {
			s.worn[w], found = true, true
		}
	}
	return found
}

// meshNames are what a primitive's mesh goes by.
func (p *pieces) meshNames(w wearing) []string {
	return append([]string{"#" + strconv.Itoa(w.mesh), p.meshName(w.mesh)}, p.shownBy[[2]int{w.skin, w.mesh}]...)
}

// materialNames are what a primitive's material goes by, the best known first; none
// where it has none.
func (p *pieces) materialNames(w wearing) []string {
	material := p.file.Doc.Meshes[w.mesh].Primitives[w.primitive].Material
	if material == nil || *material >= len(p.file.Doc.Materials) {
		return nil
	}
	names := []string{"#" + strconv.Itoa(*material)}
	if name := p.file.Doc.Materials[*material].Name; name != "" {
		names = []string{name, names[0]}
	}
	return names
}

// namesOf are names of all that is worn, each once.
func (p *pieces) namesOf(name func(wearing) string) (out []string) {
	for i := range p.worn {
		if n := name(p.worn[i].wearing); n != "" && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// namesShown lists names for a message.
func namesShown(names []string) string {
	const most = 12
	if len(names) == 0 {
		return "none, for there is no other"
	}
	var out []string
	for _, name := range names[:min(len(names), most)] {
		out = append(out, fmt.Sprintf("%q", name))
	}
	if len(names) > most {
		out = append(out, "…")
	}
	return "one of " + strings.Join(out, ", ")
}

// withPieces are the parts and some pieces more.
func (s *SkinParts) withPieces(pieces []string) *SkinParts {
	out := SkinParts{}
	if s != nil {
		out = *s
	}
	out.Pieces = append(slices.Clone(out.Pieces), pieces...)
	return &out
}
