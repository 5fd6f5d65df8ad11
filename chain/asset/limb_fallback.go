package asset

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// farthestRest is how far out of a range for people a bone may rest and still be
	// taken for a person's, in radians: arms held out at rest are in theirs, and a leg
	// that lies or is folded back is not.
	farthestRest = 45 * math.Pi / 180
	// farthestClip is how far out of its range a clip may take a bone that is to bend by
	// a field made for that range, in radians. Beyond the range such a field is smooth
	// and no more. Published ranges differ by up to 20 degrees, and animators go farther.
	farthestClip = 45 * math.Pi / 180
)

// rangeOfClips fits the range to the directions that the bone takes in clips. Where that
// was not asked for, clips that do not turn the bone are nothing to tell of.
func (d *finder) rangeOfClips(spec *chain.Limb, l *limb, body bodyFrame, asked bool) (known bool) {
	l.motion = Range{Name: RangeNone}
	var directions []r3.Vec
	for _, t := range d.directions(spec, l) {
		directions = append(directions, t.directions...)
	}
	if !turned(directions) {
		if asked {
			l.note = "range is clips, and no clip turns the bone, so that it has no range of motion, expected limits"
		}
		return false
	}
	fitted, ok := fitRange(directions, body)
	if !ok {
		l.note = "the clips turn the bone too far round for a range of motion that holds all its directions, and it has none; give it limits, or range: none"
		return false
	}
	l.motion, spec.Range = fitted, fitted.in(body)
	return true
}

// fallBack has a limb whose file does not say by which field it bends go without its
// range of motion where the range says nothing of the bone at rest, or of its clips. A
// range that clips leave is still told of.
func (d *finder) fallBack(spec *chain.Limb, l *limb) {
	if l.spec.Field != "" {
		return
	}
	taken := d.directions(spec, l)
	if beyond := spec.Range.Beyond(taken[0].directions[0]); beyond > farthestRest && (l.motion.Name == RangeHip || l.motion.Name == RangeShoulder) {
		spec.Range, l.motion = chain.Range{}, Range{Name: RangeNone}
		l.note = fmt.Sprintf("at rest the bone points %.0f degrees out of a person's range of motion, which is left aside; give it limits of its own, or range: none", beyond*180/math.Pi)
		return
	}
	if spec.Centre.Mode != chain.Auto { // no field that goes by the range
		return
	}
	most, in := farthestClip, ""
	for _, t := range taken[1:] {
		for _, to := range t.directions {
			if beyond := spec.Range.Beyond(to); beyond > most {
				most, in = beyond, t.clip
			}
		}
	}
	if in != "" {
		spec.Field = chain.Shortest
		l.note = fmt.Sprintf("clip %q takes the bone %.0f degrees out of its range of motion, so that it bends by the shortest arc; expected range: clips, wider limits, or a field", in, most*180/math.Pi)
	}
}
