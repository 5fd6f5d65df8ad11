package asset

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
)

const (
	// mostHang is how far from straight down a standing person's thighs may point,
	// in radians: a straddle is in it, a squat is not.
	mostHang = 60 * math.Pi / 180
	// mostLean is how far from straight above the hips the shoulders or the head
	// may be, in radians. The trunk of a four-legged animal lies at some 90
	// degrees, that of a two-legged dinosaur at 60 to 90.
	mostLean = 45 * math.Pi / 180
)

// words for the head, in the vocabulary's languages.
var headWords = []string{"head", "kopf", "tete", "cabeza", "testa", "cabeca", "hoofd", "頭", "atama"}

// standsLikePerson reports whether limbs are those of a person who stands at
// rest: two thighs that hang, the shoulders, or else the head, above the hips,
// and no front legs. Ranges of motion for people hold for no others.
func (d *detector) standsLikePerson(all []found) bool {
	var hips, shoulders []mgl64.Vec3
	for _, b := range all {
		switch {
		case b.foreleg:
			return false
		case b.part == thigh:
			if angleTo(d.place[b.end].Sub(d.place[b.joint]), mgl64.Vec3{0, -1, 0}) > mostHang {
				return false
			}
			hips = append(hips, d.place[b.joint])
		case b.part == upperArm:
			shoulders = append(shoulders, d.place[b.joint])
		}
	}
	if len(hips) != 2 {
		return false
	}
	if len(shoulders) == 0 {
		shoulders = d.heads()
	}
	return len(shoulders) > 0 && angleTo(middle(shoulders).Sub(middle(hips)), mgl64.Vec3{0, 1, 0}) <= mostLean
}

// heads are the places of the first joint that is called head.
func (d *detector) heads() []mgl64.Vec3 {
	words := d.names()
	for _, node := range d.order {
		if d.joints[node] && slices.ContainsFunc(words[node], func(w string) bool { return slices.Contains(headWords, w) }) {
			return []mgl64.Vec3{d.place[node]}
		}
	}
	return nil
}

func middle(points []mgl64.Vec3) (sum mgl64.Vec3) {
	for _, p := range points {
		sum = sum.Add(p)
	}
	return sum.Mul(1 / float64(len(points)))
}

// angleTo is the angle between a vector and a unit vector, in radians; pi for a
// vector without length, which points nowhere.
func angleTo(v, unit mgl64.Vec3) float64 {
	if v.Len() == 0 {
		return math.Pi
	}
	return math.Atan2(v.Cross(unit).Len(), v.Dot(unit))
}

// rangeOf is the range of motion that a limb is proposed with. Fore- and hind
// legs, and arms and legs that do not hang from an upright trunk, move as no
// table says; their clips show how.
func (d *detector) rangeOf(b found, person bool) Range {
	switch {
	case b.tip >= 0: // the joint's own swing is left alone
		return Range{}
	case !person && len(d.file.Doc.Animations) > 0:
		return Range{Name: RangeClips}
	case !person:
		return Range{Name: RangeNone}
	case b.side == 0: // ranges differ between left and right
		return Range{}
	case b.part == thigh:
		return Range{Name: RangeHip}
	}
	return Range{Name: RangeShoulder}
}
