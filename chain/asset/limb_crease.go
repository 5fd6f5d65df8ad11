package asset

import (
	"errors"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/spatial/r3"
)

// creasing watches the fold that a limb is eased out of.
type creasing struct {
	creaser *chain.Creaser
	atRoot  bool
	bone    r3.Vec // of the limb: from the fold along it, in the joint's frame
	// fold goes from the joint to the end joint, and beyond is where the far
	// bone points in its frame; or, for a fold at the root, from the near
	// bone's joint to the joint.
	fold   walk
	beyond mgl64.Vec3
	moves  []r3.Vec
}

// setCrease reads the limb file's crease.
func (d *finder) setCrease(l *limb) error {
	spec := l.spec.Crease
	if spec == nil {
		return nil
	}
	if !isEven(d.world[l.joint].Mat3()) {
		return errUneven
	}
	x := &creasing{atRoot: spec.At == CreaseAtRoot, bone: l.axis, moves: make([]r3.Vec, l.spec.segments())}
	part := chain.FarPart
	var err error
	if x.atRoot {
		x.fold, err = d.nearBone(l)
	} else {
		part = chain.NearPart
		x.bone = r3.Scale(-1, l.axis)
		err = d.farBone(x, l)
	}
	if err != nil {
		return err
	}
	near, far := x.bones(nil, 0)
	x.creaser, err = chain.NewCreaser(chain.Limb{Name: l.spec.Name, Segments: l.spec.segments()}, chain.Crease{
		// The solver works in the joint's units.
		Part: part, Most: spec.Most * l.length / l.metres,
		Onset: spec.OnsetDeg * math.Pi / 180, Full: spec.FullDeg * math.Pi / 180, NearRest: near, FarRest: far,
	})
	l.creasing = x
	return err
}

// nearBone is the way from the joint of the bone above the fold. Joints that
// stand on the fold itself only turn it.
func (d *finder) nearBone(l *limb) (walk, error) {
	above := d.file.away(l.joint, d.file.parent[l.joint], d.poses, l.length)
	if above < 0 {
		return walk{}, errors.New("at is root, and no joint above stands away from it, expected a bone on the other side of the fold")
	}
	return walk{d.file.down(above, l.joint), d.poses}, nil
}

// farBone finds where the bone beyond the end joint points: to the farthest of
// its children, those that deform the skin before others.
func (d *finder) farBone(x *creasing, l *limb) error {
	end, err := d.node(l.spec.End.Joint)
	if err != nil {
		return err
	}
	x.fold = walk{d.file.down(l.joint, end), d.poses}
	toJoint := x.fold.matrix(nil, 0).Mat3()
	longest, deforms := 0., false
	for _, child := range d.file.Doc.Nodes[end].Children {
		at := mgl64.Vec3(d.rest[child].translation)
		joint := d.file.jointNodes[child]
		if length := toJoint.Mul3x1(at).Len(); length > standsOn*l.length && (joint && !deforms || joint == deforms && length > longest) {
			longest, deforms, x.beyond = length, joint, at
		}
	}
	if longest == 0 {
		return fmt.Errorf("at is end, and no joint below %q says where its bone points, expected one", l.spec.End.Joint)
	}
	return nil
}

// bones are the directions from the fold up the near bone and down the far one,
// in the joint's frame, of any length.
func (x *creasing) bones(c *clip, t float64) (near, far r3.Vec) {
	m := x.fold.matrix(c, t)
	if x.atRoot {
		return rest.VecFromMgl64(seenFrom(m, mgl64.Vec3{})), x.bone
	}
	return x.bone, rest.VecFromMgl64(m.Mat3().Mul3x1(x.beyond))
}

func (x *creasing) tracks(c *clip) []*track { return x.fold.tracks(c, true) }
