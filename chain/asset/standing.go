package asset

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
)

// uprightWithin is how far from +Y the way from the hips to the arms or the head may
// point in a character that stands as a person does: half-way to a character whose back
// is level.
const uprightWithin = 45 * math.Pi / 180

// headWords are words for the head in the languages of the vocabulary.
var headWords = []string{"head", "kopf", "tete", "cabeza", "testa", "cabeca", "hoofd", "atama", "頭"}

// standing reports whether the character stands at rest as a person does, as far as names
// tell: it has two thighs or more, and its upper arms and its head are above them.
func (d *finder) standing() bool {
	if d.bare {
		return true // as LimbSpec.Solver takes it to be
	}
	var hips, above mgl64.Vec3
	thighs, others := 0, 0
	for node, n := range d.file.Doc.Nodes {
		if !d.file.jointNodes[node] {
			continue
		}
		words := splitName(n.Name)
		at := d.world[node].Col(3).Vec3()
		switch r, _ := roleOf(meaningOf(words)); {
		case r == thigh, r == someLeg, r == hip:
			hips, thighs = hips.Add(at), thighs+1
		case r == upperArm, r == someArm, r == shoulder,
			r != passedOver && slices.ContainsFunc(words, func(w string) bool { return slices.Contains(headWords, w) }):
			above, others = above.Add(at), others+1
		}
	}
	if thighs < 2 || others == 0 {
		return false
	}
	up := above.Mul(1 / float64(others)).Sub(hips.Mul(1 / float64(thighs)))
	across := math.Hypot(up[0], up[2])
	return math.Atan2(across, up[1]) <= uprightWithin
}
