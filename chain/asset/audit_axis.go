package asset

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// setUp finds the bones and the axis.
func (h *auditHinge) setUp(d *hingeFinder) error {
	inside, err := h.bone(d)
	if err != nil {
		return err
	}
	if near := d.file.away(h.joint, h.near, d.poses, r3.Norm(inside)); near >= 0 {
		h.near = near
	}
	h.turn = d.file.turner(d.file.down(h.near, h.joint), d.poses, d.clips)
	near, bone, err := h.bones(d, inside)
	if err != nil {
		return err
	}
	fitted, fit, fitErr := chain.HingeFromTurns(bone, h.turns(d.clips))
	h.fit, h.fitted = fit, fitErr == nil
	bent, bend, restErr := chain.HingeFromRest(near, bone)
	h.restBend = bend
	body, bodyErr := h.acrossBody(d, bone)
	switch {
	case h.given != nil:
		h.from = AxisGiven
		h.hinge, err = chain.NewHinge(bone, r3.Vec{X: h.given[0], Y: h.given[1], Z: h.given[2]})
		return err
	case restErr == nil:
		h.from, h.hinge = AxisRest, bent
	case h.fitted:
		h.from, h.hinge = AxisClips, fitted
		// Which way is flexion the body knows better than a clip that may bend the
		// knee the wrong way, unless the hinge lies across.
		if along := r3.Dot(body.Axis(), fitted.Axis()); bodyErr == nil && along < -0.5 {
			h.hinge, err = chain.NewHinge(bone, r3.Scale(-1, fitted.Axis()))
		}
		return err
	case bodyErr == nil:
		h.from, h.hinge = AxisBody, body
	default:
		return bodyErr
	}
	return nil
}

// bone is the far end of the bone below, in the joint's frame; zero where nothing
// ends it.
func (h *auditHinge) bone(d *hingeFinder) (r3.Vec, error) {
	switch {
	case h.end.Point != nil:
		return r3.Vec{X: h.end.Point[0], Y: h.end.Point[1], Z: h.end.Point[2]}, nil
	case h.end.Joint != "":
		node, err := d.file.node(h.end.Joint)
		if err != nil {
			return r3.Vec{}, fmt.Errorf("end: %w", err)
		}
		if node == h.joint || !d.file.isAncestor(h.joint, node) {
			return r3.Vec{}, fmt.Errorf("end: %q is not below the joint, expected one of its descendants or a point", h.end.Joint)
		}
		return d.inFrame(h.joint, node), nil
	}
	return d.below(h.joint), nil
}

// bones are the directions of the bone above, to the joint, and of the bone below,
// in the joint's frame outside its own scale, as its rotation has it. A bone below
// that nothing ends goes on like the one above.
func (h *auditHinge) bones(d *hingeFinder, inside r3.Vec) (near, bone r3.Vec, err error) {
	if h.near >= 0 {
		near = r3.Scale(-1, rest.VecFromMgl64(seenFrom(h.turn.frame(nil, 0), mgl64.Vec3{})))
	}
	bone = d.rest[h.joint].outside(inside)
	if !(r3.Norm(bone) > 0) {
		bone = near
	}
	if !(r3.Norm(bone) > 0) {
		return near, bone, fmt.Errorf("no joint below it at a distance, expected one or a limb with an end, to tell where its bone points")
	}
	if !(r3.Norm(near) > standsOn*r3.Norm(bone)) {
		near = bone // straight, for all that is known
	}
	return near, bone, nil
}

// acrossBody is the hinge of a knee that bends back, or of an elbow or any other
// joint that bends ahead. glTF 2.0, section 3.4: a character faces +Z and is
// upright along +Y. A bone that points ahead or back bends as it would after it was
// swung there from hanging: about the body's left, or for elbows its right.
func (h *auditHinge) acrossBody(d *hingeFinder, bone r3.Vec) (chain.Hinge, error) {
	m := d.world[h.joint].Mat3()
	if !(math.Abs(m.Det()) > 0) {
		return chain.Hinge{}, fmt.Errorf("its scale at rest is 0, expected one that leaves it directions")
	}
	own := d.rest[h.joint].mat4().Mat3()
	if !(math.Abs(own.Det()) > 0) {
		return chain.Hinge{}, fmt.Errorf("its scale at rest is 0, expected one that leaves it directions")
	}
	inside := own.Inv().Mul3x1(rest.VecToMgl64(rest.Frame{Rotation: d.rest[h.joint].rotation}.Direction(bone)))
	along := rest.VecFromMgl64(m.Mul3x1(inside))
	front := d.file.facing()
	ahead, across := r3.Vec{Z: front}, r3.Vec{X: -front}
	if h.kind == kneeHinge {
		ahead, across = r3.Scale(-1, ahead), r3.Scale(-1, across)
	}
	to := ahead
	if r3.Norm(r3.Cross(along, ahead)) < math.Sin(chain.HingeMinRestBend)*r3.Norm(along) {
		to = r3.Cross(across, along)
	}
	return chain.HingeTowards(bone, d.rest[h.joint].outside(rest.VecFromMgl64(m.Inv().Mul3x1(rest.VecToMgl64(to)))))
}

// fromRest is the joint's rotation from rest relative to the bone above, in its own
// rest frame.
func (h *auditHinge) fromRest(c *clip, t float64) quat.Number {
	q := quat.Mul(quat.Conj(h.turn.at(nil, 0)), h.turn.at(c, t))
	if h.turn.mirrored {
		q = rest.AcrossX.Rotation(q)
	}
	return q
}

// turns are the joint's rotations in all clips, for a fit: at the keys and, between
// them, four times or once for each two degrees turned.
func (h *auditHinge) turns(clips []clip) []quat.Number {
	const apart, fewest, most = math.Pi / 90, 4, 90
	var out thinned
	for i := range clips {
		times := keyTimes(h.turn.tracks(&clips[i]))
		var before quat.Number
		for k, t := range times {
			q := h.fromRest(&clips[i], t)
			if k > 0 {
				start := times[k-1]
				n := min(max(fewest, math.Ceil(turn(before, q)/apart)), most)
				for j := 1.; j < n; j++ {
					out.add(h.fromRest(&clips[i], start+(t-start)*j/n))
				}
			}
			out.add(q)
			before = q
		}
	}
	return out.kept
}

// thinned keeps rotations at even steps, so few that clips which share their data
// cannot make much of little.
type thinned struct {
	kept       []quat.Number
	step, seen int // every how many-th is kept
}

func (s *thinned) add(q quat.Number) {
	const most = 1 << 17
	s.step = max(s.step, 1)
	if s.seen%s.step == 0 {
		if len(s.kept) == most {
			for i := range most / 2 {
				s.kept[i] = s.kept[2*i]
			}
			s.kept = s.kept[:most/2]
			s.step *= 2
		}
		if s.seen%s.step == 0 {
			s.kept = append(s.kept, q)
		}
	}
	s.seen++
}
