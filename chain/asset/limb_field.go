package asset

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/spatial/r3"
)

// setField carries the limb file's field, centre and range over.
func (d *finder) setField(spec *chain.Limb, l *limb, anchor int) error {
	spec.Field = map[string]chain.Field{
		"": chain.AnyField, FieldPlain: chain.Plain, FieldCentred: chain.Centred, FieldBest: chain.Best,
	}[l.spec.Field]
	asked := l.spec.Field == FieldCentred || l.spec.Field == FieldBest
	switch {
	case l.spec.Twist == TwistTip:
		// The joint's own twist is kept whole: how the bend rolls is all one.
		spec.Field, spec.Centre = chain.Plain, chain.Centre{Mode: chain.None}
		return nil
	case l.jointTurn.mirrored || l.anchorTurn.mirrored:
		// Between mirrored frames a direction would have to be carried by hand.
		if asked {
			return fmt.Errorf("is %s, and the joint or its anchor stands in a mirrored frame, expected plain", l.spec.Field)
		}
		spec.Field, spec.Centre = chain.Plain, chain.Centre{Mode: chain.None}
		return nil
	case l.spec.Centre.Direction != nil:
		c := l.spec.Centre.Direction
		spec.Centre = chain.Centre{Mode: chain.Given, Direction: r3.Vec{X: c[0], Y: c[1], Z: c[2]}}
	case l.spec.Centre.Mode == CentreNone:
		spec.Centre = chain.Centre{Mode: chain.None}
	}
	known, err := d.setRange(spec, l, anchor)
	if err != nil {
		return err
	}
	if !known && asked && !(l.spec.Field == FieldCentred && spec.Centre.Mode == chain.Given) {
		return fmt.Errorf("is %s, and nothing says what the joint's range of motion is, expected range: hip, shoulder, wrist or limits", l.spec.Field)
	}
	return nil
}

// setRange fills in the joint's range of motion in the anchor's frame: the one
// that the limb file gives, or that of a hip or a shoulder where the joint's
// name, or else the limb's, says that it is one.
func (d *finder) setRange(spec *chain.Limb, l *limb, anchor int) (known bool, err error) {
	toAnchor := mgl64.Ident3()
	if anchor >= 0 {
		m := d.world[anchor].Mat3()
		if math.Abs(m.Det()) == 0 {
			return false, nil
		}
		toAnchor = m.Inv()
	}
	// glTF 2.0, section 3.4: +Y is up and the front of an asset faces +Z, so
	// +X is a character's left.
	out := r3.Vec{X: 1}
	if d.world[l.joint][12] < d.anchorX(anchor) {
		out.X = -1
	}
	down, forward, out := anatomicalFrame(toAnchor, r3.Vec{Y: -1}, r3.Vec{Z: 1}, out)
	switch name := l.spec.Range.Name; {
	case name == RangeNone:
		return false, nil
	case name == RangeHip, name == "" && l.spec.Range.isZero() && isThigh(l.spec):
		spec.Range = chain.Hip(down, forward, out)
	case name == RangeShoulder, name == "" && l.spec.Range.isZero() && isUpperArm(l.spec):
		spec.Range = chain.Shoulder(down, forward, out)
	case name == RangeWrist:
		spec.Range, err = d.wrist(l, toAnchor)
	case !l.spec.Range.isZero():
		spec.Range = chain.Range{
			Flexion: radians(l.spec.Range.Flexion), Abduction: radians(l.spec.Range.Abduction),
			Down: down, Forward: forward, Out: out,
		}
	}
	return !spec.Range.IsZero(), err
}

// wrist is the range of a hand, whose directions come from the bone: thumbs
// point ahead and palms to the side of the bone that they face when the arms
// hang (common practice, no source).
func (d *finder) wrist(l *limb, toAnchor mgl64.Mat3) (chain.Range, error) {
	along := rest.VecFromMgl64(d.world[l.joint].Mat3().Mul3x1(rest.VecToMgl64(l.axis)))
	thumb := r3.Vec{Z: 1}
	palm := r3.Cross(along, thumb)
	if d.world[l.joint][12] < 0 {
		palm = r3.Scale(-1, palm)
	}
	if !(r3.Norm(palm) > 1e-3*r3.Norm(along)) {
		return chain.Range{}, fmt.Errorf("goes with range wrist, and the hand points ahead at rest, expected limits")
	}
	return chain.Wrist(anatomicalFrame(toAnchor, along, palm, thumb)), nil
}

func radians(degrees [2]float64) [2]float64 {
	return [2]float64{degrees[0] * math.Pi / 180, degrees[1] * math.Pi / 180}
}

// anchorX is the world x of the body's middle as the limb sees it.
func (d *finder) anchorX(anchor int) float64 {
	if anchor < 0 {
		return 0
	}
	return d.world[anchor][12]
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
