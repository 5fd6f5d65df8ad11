package asset

import (
	"errors"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// walk is a descent with the poses of its nodes, to be walked as matrices:
// unlike a turner it keeps places and scales.
type walk struct {
	way descent
	*poses
}

// matrix is the end's frame in the frame where the walk starts; a nil clip is
// the rest pose.
func (p walk) matrix(c *clip, time float64) mgl64.Mat4 {
	m := mgl64.Ident4()
	for _, node := range p.way {
		m = m.Mul4(p.local(c, node, time).mat4())
	}
	return m
}

// tracks are the channels of a clip that can move the end of the walk, and,
// where its frame matters, turn or scale it.
func (p walk) tracks(c *clip, frame bool) []*track {
	var out []*track
	for i, node := range p.way {
		tracks := c.nodes[node]
		if tracks == nil {
			continue
		}
		moving := []*track{tracks.translation}
		if frame || i < len(p.way)-1 {
			moving = append(moving, tracks.rotation, tracks.scale)
		}
		for _, k := range moving {
			if k != nil {
				out = append(out, k)
			}
		}
	}
	return out
}

// stretching measures how long a limb's bone is, and sizes its segments by it.
type stretching struct {
	stretcher *chain.Stretcher
	by        string  // the joint that the length is measured to
	toJoint   walk    // from what the joint and the target have in common
	toTarget  walk    //
	rest      float64 // distance, in the joint's units
	metres    float64 // the same
	pieces    []chain.Stretched
}

// setStretch reads the limb file's stretch, and turns the limb's segments: a
// node scales along its own axes, so one of them has to lie along the bone.
func (d *finder) setStretch(l *limb) error {
	spec := l.spec.Stretch
	if spec == nil {
		return nil
	}
	x := &stretching{by: spec.By}
	if spec.By == StretchByEnd {
		x.by = l.spec.End.Joint
	}
	target, err := d.node(x.by)
	if err != nil {
		return err
	}
	if target == l.joint {
		return fmt.Errorf("by is %q, the limb's joint itself, expected another", x.by)
	}
	toJoint, toTarget := d.file.ways(l.joint, target)
	x.toJoint, x.toTarget = walk{toJoint, d.poses}, walk{toTarget, d.poses}
	if x.rest = x.distance(nil, 0); !(x.rest > 0 && x.rest*0 == 0) {
		return fmt.Errorf("by is %q, which stands on the joint at rest, expected a joint away from it", x.by)
	}
	x.metres = d.world[target].Col(3).Vec3().Sub(d.world[l.joint].Col(3).Vec3()).Len()
	x.stretcher, err = chain.NewStretcher(
		chain.Limb{Name: l.spec.Name, Length: l.length, Segments: l.spec.segments()},
		chain.Stretch{Shares: spec.Shares, Exponent: spec.Exponent, Least: spec.Limits[0], Most: spec.Limits[1]})
	if err != nil {
		return err
	}
	x.pieces = make([]chain.Stretched, l.spec.segments())
	l.stretching = x
	l.shape.least, l.shape.most = 1, 1
	l.column, l.turn = alongAxis(l.axis)
	return nil
}

// distance is how far the target is from the joint, in the joint's frame: what
// scales the whole character, or the joint, makes no stretch.
func (x *stretching) distance(c *clip, t float64) float64 {
	at := x.toTarget.matrix(c, t).Col(3).Vec3()
	if len(x.toJoint.way) > 0 {
		at = seenFrom(x.toJoint.matrix(c, t), at)
	}
	return at.Len()
}

// seenFrom is a point in an affine frame, by Cramer's rule; 0 in a frame that is
// flat. (mathgl's inverse takes small frames, as of a character in tenths of a
// millimetre, for flat.)
func seenFrom(m mgl64.Mat4, point mgl64.Vec3) mgl64.Vec3 {
	a, b, c := m.Col(0).Vec3(), m.Col(1).Vec3(), m.Col(2).Vec3()
	d := point.Sub(m.Col(3).Vec3())
	det := a.Dot(b.Cross(c))
	if det == 0 {
		return mgl64.Vec3{}
	}
	return mgl64.Vec3{d.Dot(b.Cross(c)), a.Dot(d.Cross(c)), a.Dot(b.Cross(d))}.Mul(1 / det)
}

func (x *stretching) tracks(c *clip) []*track {
	return append(x.toTarget.tracks(c, false), x.toJoint.tracks(c, true)...)
}

// alongAxis is the smallest turn that lays one of a frame's axes, either way,
// along a direction, in float32 as a file holds it, and which axis that is.
func alongAxis(direction r3.Vec) (column int, turn quat.Number) {
	parts := [3]float64{direction.X, direction.Y, direction.Z}
	for i := range parts {
		if math.Abs(parts[i]) > math.Abs(parts[column]) {
			column = i
		}
	}
	var axis [3]float64
	axis[column] = math.Copysign(1, parts[column])
	arc, _ := swing.Arc(r3.Vec{X: axis[0], Y: axis[1], Z: axis[2]}, direction)
	stored := storedRotation(arc)
	return column, quaternion([]float64{float64(stored[0]), float64(stored[1]), float64(stored[2]), float64(stored[3])})
}

// storedRotation is a rotation as glTF stores it.
func storedRotation(q quat.Number) [4]float32 {
	return [4]float32{float32(q.Imag), float32(q.Jmag), float32(q.Kmag), float32(q.Real)}
}

// isTurned reports whether the limb's segments stand turned in their joint's
// frame at rest.
func (l *limb) isTurned() bool {
	return l.turn != quat.Number{} && l.turn != quat.Number{Real: 1}
}

// placed is a segment's rotation in its joint's frame: from rest by q.
func (l *limb) placed(q quat.Number) quat.Number {
	if l.isTurned() {
		return quat.Mul(q, l.turn)
	}
	return q
}

// isEven reports whether a frame scales alike along every axis, mirrored or
// not: columns of one length, square to each other, to 1e-4 of it, which tilts
// and stretches by less than skin could show.
func isEven(m mgl64.Mat3) bool {
	const relative = 1e-4
	square := m.Transpose().Mul3(m)
	size := square.Trace() / 3
	for i, x := range square {
		if i%4 == 0 {
			x -= size
		}
		if !(math.Abs(x) <= relative*size) {
			return false
		}
	}
	return size > 0
}

var errUneven = errors.New("the joint is scaled unevenly, or by 0, expected one even scale: angles of a fold are measured in its frame")
