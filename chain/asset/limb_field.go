package asset

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/spatial/r3"
)

// setField carries the limb file's field, centre and range over; key is the one
// at fault.
func (d *finder) setField(spec *chain.Limb, l *limb, anchor int) (key string, err error) {
	l.motion = Range{Name: RangeNone}
	spec.Field = map[string]chain.Field{
		"": chain.AnyField, FieldShortest: chain.Shortest, FieldCentred: chain.Centred, FieldLeastRoll: chain.LeastRoll, FieldBalanced: chain.Balanced,
	}[l.spec.Field]
	asked := l.spec.Field == FieldCentred || l.spec.Field == FieldLeastRoll || l.spec.Field == FieldBalanced
	switch {
	case l.spec.Twist == TwistTip:
		// The joint's own twist is kept whole: how the bend rolls is all one.
		spec.Field, spec.Centre = chain.Shortest, chain.Centre{Mode: chain.None}
		return "", nil
	case l.jointTurn.mirrored || l.anchorTurn.mirrored:
		// Between mirrored frames a direction would have to be carried by hand.
		if asked {
			return "field", fmt.Errorf("is %s, and the joint or its anchor stands in a mirrored frame, expected shortest", l.spec.Field)
		}
		spec.Field, spec.Centre = chain.Shortest, chain.Centre{Mode: chain.None}
		return "", nil
	case l.spec.Centre.Direction != nil:
		c := l.spec.Centre.Direction
		spec.Centre = chain.Centre{Mode: chain.Given, Direction: r3.Vec{X: c[0], Y: c[1], Z: c[2]}}
	case l.spec.Centre.Mode == CentreNone:
		spec.Centre = chain.Centre{Mode: chain.None}
	}
	known, err := d.setRange(spec, l, anchor)
	if err != nil {
		return "range", err
	}
	if !known && asked && !(l.spec.Field == FieldCentred && spec.Centre.Mode == chain.Given) {
		if l.note != "" { // which is why there is no range to go by
			return "field", fmt.Errorf("is %s, which asks for a range of motion, and %s", l.spec.Field, l.note)
		}
		return "field", fmt.Errorf("is %s, and nothing says what the joint's range of motion is, expected range: hip, shoulder, wrist, clips or limits", l.spec.Field)
	}
	return "", nil
}

// whyNoField says which key is at fault where there is no field of swings, and
// what is expected of it.
func whyNoField(spec chain.Limb, err error) (key string, why error) {
	text, ofRange := strings.CutPrefix(ownWords(err, spec.Name), "range: ")
	switch {
	case ofRange:
		return "range", fmt.Errorf("%s; expected other limits, or field: centred", text)
	case spec.Centre.Mode == chain.Given:
		return "centre", errors.New("points against the bone, expected a direction less than half a turn from it: its swing would be undefined at rest")
	}
	return "range", errors.New("its middle points against the bone, expected limits that the bone at rest is nearer to, or centre: none")
}

// setRange fills in the joint's range of motion in the anchor's frame: the one
// that the limb file gives, or the one that a limb has whose file gives none.
func (d *finder) setRange(spec *chain.Limb, l *limb, anchor int) (known bool, err error) {
	toAnchor := mgl64.Ident3()
	if anchor >= 0 {
		m := d.world[anchor].Mat3()
		if math.Abs(m.Det()) == 0 {
			return false, nil
		}
		toAnchor = m.Inv()
	}
	side := d.sideOf(l)
	// glTF 2.0, section 3.4: +Y is up and the front of an asset faces +Z, so
	// +X is a character's left; see facing for what does not.
	front := d.file.facing()
	out := r3.Vec{X: front}
	if side < 0 {
		out.X = -front
	}
	down, forward, out := anatomicalFrame(toAnchor, r3.Vec{Y: -1}, r3.Vec{Z: front}, out)
	body := bodyFrame{down, forward, out}
	asked := !l.spec.Range.isZero()
	if l.motion = l.spec.Range; !asked {
		l.motion = d.rangeLeftOut(l, side)
	}
	switch l.motion.Name {
	case RangeNone:
		return false, nil
	case RangeClips:
		return d.rangeOfClips(spec, l, body, asked), nil
	case "":
		spec.Range = l.motion.in(body)
	default:
		if side == 0 {
			return false, fmt.Errorf("is %s, and neither names nor places tell left from right, expected limits", l.motion.Name)
		}
		switch l.motion.Name {
		case RangeHip:
			spec.Range = chain.Hip(down, forward, out)
		case RangeShoulder:
			spec.Range = chain.Shoulder(down, forward, out)
		case RangeWrist:
			if spec.Range, err = d.wrist(l, toAnchor, side); err != nil {
				return false, err
			}
		}
	}
	d.fallBack(spec, l)
	return !spec.Range.IsZero(), nil
}

// rangeLeftOut is the range of a limb whose file gives none: that of a hip or a shoulder
// where the limb's name, or else its joint's, says that it is one of a person.
func (d *finder) rangeLeftOut(l *limb, side int) Range {
	switch {
	case !d.standing() && l.spec.Centre.Mode != CentreNone: // else no field goes by it
		return Range{Name: RangeClips}
	case !d.standing():
	case side != 0 && isThigh(l.spec):
		return Range{Name: RangeHip}
	case side != 0 && isUpperArm(l.spec):
		return Range{Name: RangeShoulder}
	}
	return Range{Name: RangeNone}
}

// in is a range of limits, measured from its own directions or else from the body's.
func (r Range) in(body bodyFrame) chain.Range {
	if !r.Frame.isZero() {
		body = r.Frame.square()
	}
	return chain.Range{
		Flexion: radians(r.FlexionDeg), Abduction: radians(r.AbductionDeg),
		Down: body.down, Forward: body.forward, Out: body.out,
	}
}

// sideOf is 1 for a limb on the left, -1 on the right and 0 where neither the
// limb's name, nor its joint's, nor where it lies at rest tells: as far to the
// side of the skeleton's topmost joint as a twentieth of its own length.
func (d *finder) sideOf(l *limb) int {
	for _, name := range []string{l.spec.Name, l.spec.Joint, d.file.Doc.Nodes[l.joint].Name} {
		if side := sideOf(meaningOf(splitName(name))); side != 0 {
			return side
		}
	}
	top := l.joint
	for up := d.file.parent[top]; up >= 0 && d.file.jointNodes[up]; up = d.file.parent[up] {
		top = up
	}
	const clear = 0.05
	switch off := d.file.facing() * (d.world[l.joint][12] - d.world[top][12]); {
	case off > clear*l.metres:
		return 1
	case off < -clear*l.metres:
		return -1
	}
	return 0
}

// wrist is the range of a hand, whose directions come from the bone: thumbs
// point ahead and palms to the side of the bone that they face when the arms
// hang (common practice, no source).
func (d *finder) wrist(l *limb, toAnchor mgl64.Mat3, side int) (chain.Range, error) {
	along := rest.VecFromMgl64(d.world[l.joint].Mat3().Mul3x1(rest.VecToMgl64(l.axis)))
	thumb := r3.Vec{Z: d.file.facing()}
	palm := r3.Cross(along, thumb)
	if side < 0 {
		palm = r3.Scale(-1, palm)
	}
	if !(r3.Norm(palm) > 1e-3*r3.Norm(along)) {
		return chain.Range{}, errors.New("is wrist, and the hand points ahead at rest, expected limits")
	}
	return chain.Wrist(anatomicalFrame(toAnchor, along, palm, thumb)), nil
}

func radians(degrees [2]float64) [2]float64 {
	return [2]float64{degrees[0] * math.Pi / 180, degrees[1] * math.Pi / 180}
}

// anatomicalFrame carries a body's directions through a linear map and makes
// them square again, down first: scale and shear must not tilt them.
func anatomicalFrame(m mgl64.Mat3, down, forward, out r3.Vec) (_, _, _ r3.Vec) {
	carry := func(v r3.Vec) r3.Vec { return rest.VecFromMgl64(m.Mul3x1(rest.VecToMgl64(v))) }
	square := func(v r3.Vec, against ...r3.Vec) r3.Vec {
		v = r3.Unit(v)
		for _, a := range against {
			v = r3.Sub(v, r3.Scale(r3.Dot(v, a), a))
		}
		return r3.Unit(v)
	}
	down = square(carry(down))
	forward = square(carry(forward), down)
	out = square(carry(out), down, forward)
	return down, forward, out
}
