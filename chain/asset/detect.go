package asset

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// Detect proposes the limbs of a character: thighs, upper arms and forearms,
// those of front legs among them.
//
// Words for body parts in joints' names, in several languages and with any
// marking of the side, say what belongs to a limb; the hierarchy decides what
// they leave open (a "leg" above another is the thigh). Without words for the
// sides the rest pose tells them: glTF has characters face +Z with their left
// at +X. A joint is only proposed if it deforms some vertex and its bone has a
// length.
//
// A character that shows no limbs gives a *NoLimbsError, whose text helps to
// write a limb file.
func Detect(f *File) (Limbs, error) {
	if len(f.Doc.Skins) == 0 {
		return Limbs{}, fmt.Errorf("%s: no skin, expected a skinned character", f.Name)
	}
	if err := f.checkUnsplit(DefaultNames); err != nil {
		return Limbs{}, err
	}
	d := &detector{file: f, joints: f.jointNodes, order: f.parentsFirst()}
	poses, err := f.poses()
	if err != nil {
		return Limbs{}, err
	}
	if d.weighted, err = f.weightedJoints(); err != nil {
		return Limbs{}, fmt.Errorf("%s: %w", f.Name, err)
	}
	d.measure(poses.world(f, d.order, nil, 0))
	words := d.names()
	for _, bare := range []bool{true, false} {
		if bare && !stripCommon(words) {
			continue
		}
		if !bare {
			words = d.names()
		}
		d.read(words)
		if limbs := d.limbs(); len(limbs) > 0 {
			return Limbs{Version: LimbsVersion, Limbs: limbs}, nil
		}
	}
	return Limbs{}, d.noLimbs()
}

// detector is one look at one character.
type detector struct {
	file     *File
	joints   map[int]bool // nodes that are joints of a skin
	weighted map[int]bool // joints that deform some vertex
	order    []int        // nodes, parents first
	place    []mgl64.Vec3 // of each node in the world, at rest
	extent   float64      // of all joints together

	role    []role
	side    []int
	foreleg []bool
	up      []int // nearest node above that is not passed over, -1 without
	parted  []bool
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

// read fills in what the names say, and the hierarchy of what is not passed
// over.
func (d *detector) read(words [][]string) {
	n := len(d.order)
	d.role, d.side, d.foreleg = make([]role, n), make([]int, n), make([]bool, n)
	d.up, d.parted = make([]int, n), make([]bool, n)
	letters := sideLetters(words)
	below := make([]bool, n) // a joint, or below one
	for _, node := range d.order {
		m := meaningOf(words[node])
		if sideOf(m) == 0 {
			m |= letters[node]
		}
		d.role[node], d.foreleg[node] = roleOf(m)
		d.side[node] = sideOf(m)
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
	}
	for node := range d.order {
		if up := d.up[node]; up >= 0 && d.role[node] != passedOver && d.sameLimb(up, node) {
			d.parted[up] = true
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
