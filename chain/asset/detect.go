package asset

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/qmuntal/gltf"
)

// Detect proposes the limbs of a character: thighs, upper arms and forearms,
// those of front legs among them.
//
// Words for body parts in joints' names, in several languages and with any
// marking of the side, say what belongs to a limb; the hierarchy decides what
// they leave open (a "leg" above another is the thigh). Without words for the
// sides the rest pose tells them: glTF has characters face +Z with their left
// at +X. A joint is only proposed if it deforms some vertex and its bone has a
// length. A VRM file says which joints are a person's; its word comes first.
//
// Limbs whose skin has nothing to gain are in Skipped, with the reason. A file of
// clips alone, without a mesh, is read by names and hierarchy: SkinUnseen is then
// set.
//
// A character that shows no limbs gives a *NoLimbsError, whose text helps to
// write a limb file.
func Detect(f *File) (Limbs, error) {
	switch {
	case len(f.Doc.Nodes) == 0:
		return Limbs{}, fmt.Errorf("%s: no nodes, expected a character", f.Name)
	case len(f.Doc.Skins) == 0 && len(f.Doc.Meshes) > 0:
		return Limbs{}, fmt.Errorf("%s: no skin, expected a skinned character", f.Name)
	}
	if err := f.checkUnsplit(DefaultNames); err != nil {
		return Limbs{}, err
	}
	look, err := f.look()
	if err != nil {
		return Limbs{}, err
	}
	if len(look.found) == 0 {
		return Limbs{}, look.noLimbs()
	}
	limbs, skipped := look.limbs(look.found)
	return Limbs{Version: LimbsVersion, Limbs: limbs, Skipped: skipped, SkinUnseen: look.skin.unseen}, nil
}

// sight is what a look at a character finds.
type sight struct {
	*detector
	found []found
}

// lookForLimbs is one look at a character; File.look remembers it.
func (f *File) lookForLimbs() (sight, error) {
	d := &detector{file: f, joints: f.likelyJoints(), order: f.parentsFirst()}
	poses, err := f.poses()
	if err != nil {
		return sight{}, err
	}
	if d.skin, err = f.lookAtSkin(d.order); err != nil {
		return sight{}, fmt.Errorf("%s: %w", f.Name, err)
	}
	d.measure(poses.world(f, d.order, nil, 0))
	for _, read := range []func() bool{d.readHumanoid, d.readBareNames, d.readNames} {
		if !read() {
			continue
		}
		if found := d.find(); len(found) > 0 {
			return sight{d, found}, nil
		}
	}
	return sight{d, nil}, nil
}

// likelyJoints are the joints of the skins. In a file without a skin, all nodes
// may be joints: of trees in which a clip turns a node, if there are clips.
func (f *File) likelyJoints() map[int]bool {
	if len(f.Doc.Skins) > 0 {
		return f.jointNodes
	}
	order := f.parentsFirst()
	root := make([]int, len(order))
	for _, node := range order {
		if root[node] = node; f.parent[node] >= 0 {
			root[node] = root[f.parent[node]]
		}
	}
	turned := map[int]bool{} // by root
	for _, a := range f.Doc.Animations {
		for _, c := range a.Channels {
			if c.Target.Node != nil && c.Target.Path == gltf.TRSRotation {
				turned[root[*c.Target.Node]] = true
			}
		}
	}
	joints := map[int]bool{}
	for _, node := range order {
		if len(turned) == 0 || turned[root[node]] {
			joints[node] = true
		}
	}
	return joints
}

// detector is one look at one character.
type detector struct {
	file   *File
	joints map[int]bool // nodes that are joints of a skin, or may be
	skin   *skinLook
	order  []int        // nodes, parents first
	place  []mgl64.Vec3 // of each node in the world, at rest
	extent float64      // of all joints together

	role     []role
	side     []int
	foreleg  []bool
	up       []int   // nearest node above that is not passed over, -1 without
	down     [][]int // the nodes of which it is that
	branches []int   // how many nodes below go on with the limb, to a joint that is known by name
}

// measure takes the rest pose's positions.
func (d *detector) measure(world []mgl64.Mat4) {
	d.place = make([]mgl64.Vec3, len(d.order))
	low, high := mgl64.Vec3{}, mgl64.Vec3{}
	first := true
	for node, m := range world {
		d.place[node] = mgl64.Vec3{m[12], m[13], m[14]}
		if !d.joints[node] {
			continue
		}
		for k, x := range d.place[node] {
			if first {
				low[k], high[k] = x, x
			}
			low[k], high[k] = min(low[k], x), max(high[k], x)
		}
		first = false
	}
	for k := range low {
		d.extent = max(d.extent, high[k]-low[k])
	}
}

// names are the words of every node's name.
func (d *detector) names() [][]string {
	words := make([][]string, len(d.order))
	for node, n := range d.file.Doc.Nodes {
		words[node] = splitName(n.Name)
	}
	return words
}

// stripCommon takes away the words that most names begin with: they name the
// character, the skeleton or the tool, and may sound like a body part. It
// reports whether there were any.
func stripCommon(words [][]string) (found bool) {
	const (
		fewest   = 4   // names that must share a word
		fraction = 0.8 // of the names of two words and more
		most     = 4   // words taken
	)
	for range most {
		count, named := map[string]int{}, 0
		for _, w := range words {
			if len(w) > 1 {
				count[w[0]]++
				named++
			}
		}
		common := ""
		for word, n := range count {
			if n >= fewest && float64(n) >= fraction*float64(named) {
				common = word
			}
		}
		if common == "" || sideOf(lookUp(common)) != 0 && !sidesWithout(words, common) {
			return found
		}
		found = true
		for i, w := range words {
			if len(w) > 1 && w[0] == common {
				words[i] = w[1:]
			}
		}
	}
	return found
}

// sidesWithout reports whether names tell sides beside a word they begin with:
// else the word is the side, of a character with limbs on that side alone.
func sidesWithout(words [][]string, common string) bool {
	for _, w := range words {
		if len(w) > 1 && w[0] == common && sideOf(meaningOf(w[1:])) != 0 {
			return true
		}
	}
	return false
}

// readHumanoid goes by the map of a VRM file alone; false where it has none.
func (d *detector) readHumanoid() bool {
	bones := d.file.humanoid()
	d.read(func(node int) (role, int, bool) {
		bone, ok := bones[node]
		if !ok {
			return passedOver, 0, false
		}
		return bone.role, bone.side, false
	})
	return bones != nil
}

// readBareNames goes by the names without the words that they have in common;
// false where there are none.
func (d *detector) readBareNames() bool {
	words := d.names()
	if !stripCommon(words) {
		return false
	}
	d.readWords(words)
	return true
}

func (d *detector) readNames() bool {
	d.readWords(d.names())
	return true
}

func (d *detector) readWords(words [][]string) {
	letters := sideLetters(words)
	d.read(func(node int) (r role, side int, foreleg bool) {
		m := meaningOf(words[node])
		if sideOf(m) == 0 {
			m |= letters[node]
		}
		r, foreleg = roleOf(m)
		return r, sideOf(m), foreleg
	})
}

// read fills in what is said of each node, and the hierarchy of what is not
// passed over.
func (d *detector) read(says func(node int) (r role, side int, foreleg bool)) {
	n := len(d.order)
	d.role, d.side, d.foreleg = make([]role, n), make([]int, n), make([]bool, n)
	d.up, d.down, d.branches = make([]int, n), make([][]int, n), make([]int, n)
	below := make([]bool, n) // a joint, or below one
	for _, node := range d.order {
		d.role[node], d.side[node], d.foreleg[node] = says(node)
		parent := d.file.parent[node]
		below[node] = d.joints[node] || parent >= 0 && below[parent]
		if !below[node] {
			d.role[node] = passedOver
		}
		switch {
		case parent < 0:
			d.up[node] = -1
		case d.role[parent] == passedOver:
			d.up[node] = d.up[parent]
		default:
			d.up[node] = parent
		}
		if up := d.up[node]; up >= 0 {
			d.down[up] = append(d.down[up], node)
		}
	}
	known := make([]bool, n) // by its name or that of a node below it
	for _, node := range slices.Backward(d.order) {
		r := d.role[node]
		known[node] = known[node] || r.isArm() || r.isLeg() || r.isTip()
		if up := d.up[node]; up >= 0 && known[node] && r != passedOver {
			known[up] = true
			if d.sameLimb(up, node) {
				d.branches[up]++
			}
		}
	}
}

// sideLetters reads marks that are sides only where their counterpart occurs:
// g and d in French, i, s or e and d in Spanish, Italian and Portuguese.
func sideLetters(words [][]string) map[int]meaning {
	left := []string{"g", "i", "s", "e", "izq", "esq"}
	right := []string{"d", "der", "dir"}
	type mark struct{ node, at int }
	seen := map[string]meaning{}
	marks := map[mark]string{}
	for node, w := range words {
		for at, word := range w {
			says := meaning(0)
			switch {
			case slices.Contains(left, word):
				says = saysLeft
			case slices.Contains(right, word):
				says = saysRight
			default:
				continue
			}
			key := strings.Join(w[:at], " ") + "|" + strings.Join(w[at+1:], " ")
			seen[key] |= says
			marks[mark{node, at}] = key
		}
	}
	out := map[int]meaning{}
	for m, key := range marks {
		if seen[key] != saysLeft|saysRight {
			continue
		}
		if slices.Contains(left, words[m.node][m.at]) {
			out[m.node] |= saysLeft
		} else {
			out[m.node] |= saysRight
		}
	}
	return out
}

// sameLimb reports whether upper may be of the limb that lower is of.
func (d *detector) sameLimb(upper, lower int) bool {
	a, b := d.role[upper], d.role[lower]
	if d.side[upper]*d.side[lower] < 0 || a.isTip() {
		return false
	}
	switch {
	case a == unknownRole: // no words, but the same side marked
		return d.side[upper] != 0 && d.side[upper] == d.side[lower]
	case b == unknownRole:
		return d.side[upper] != 0 && d.side[upper] == d.side[lower]
	case b == paw:
		return a.isArm() || a.isLeg()
	}
	return a.isArm() && b.isArm() || a.isLeg() && b.isLeg()
}

// length is that of the bone from one node to another, in the world.
func (d *detector) length(from, to int) float64 {
	return d.place[to].Sub(d.place[from]).Len()
}

// least is the length below which a bone has none.
func (d *detector) least() float64 {
	const fraction = 1e-4 // of the character: 0.2 mm of a human
	return math.Max(fraction*d.extent, math.SmallestNonzeroFloat64)
}
