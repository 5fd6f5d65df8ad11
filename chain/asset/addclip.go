package asset

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
	"github.com/qmuntal/gltf"
	"gonum.org/v1/gonum/num/quat"
)

// NewClip is a clip to be added to a file: joints that turn, at common times.
type NewClip struct {
	Name   string       // of no other clip in the file
	Times  []float64    // seconds, 0 or more, growing; stored as float32
	Joints []JointTurns // one or more, each joint once
	Step   bool         // hold each key until the next one; else turn steadily the short way round
}

// JointTurns is how a joint turns in a clip.
type JointTurns struct {
	Joint string // by name, or by index as in "#3"
	// FromRest are the joint's rotations from rest in its own rest frame, one a
	// time and of any finite non-zero length: where the joint is turned by r
	// relative to its parent at rest, the key is r times this, and the identity is
	// rest. Rest is the bind pose, see [Rest]. It is the joint's rotation as
	// chain.Solver takes it with the parent for an anchor.
	FromRest []quat.Number
}

// AddClip returns a copy of a file with one more animation, and everything else as
// it was, but that a joint which the clip moves and whose node has a matrix gets the
// translation, rotation and scale that make it: no clip can move a matrix. The file
// itself stays as it is.
//
// The clip starts from the pose [Rest]: where the node pose differs from it, the
// clip also holds the nodes that it is not asked to turn in the rest pose.
// Rotations are stored in float32, to 2^-24 in
// every component, neighbouring keys on one side of the double cover.
//
// Errors name the file, the clip, and the joint and field at fault.
func AddClip(f *File, clip NewClip) (*File, error) {
	fail := func(err error) (*File, error) {
		return nil, fmt.Errorf("%s: new clip %q: %w", f.Name, clip.Name, err)
	}
	if err := clip.check(f); err != nil {
		return fail(err)
	}
	p, err := newPatch(f)
	if err != nil {
		return nil, err
	}
	var times []byte
	for _, t := range clip.Times {
		times = binary.LittleEndian.AppendUint32(times, math.Float32bits(float32(t)))
	}
	count := len(clip.Times)
	input := p.addAccessor(gltf.Accessor{
		ComponentType: gltf.ComponentFloat, Type: gltf.AccessorScalar, Count: count,
		Min: []float64{float64(float32(clip.Times[0]))}, Max: []float64{float64(float32(clip.Times[count-1]))},
	}, gltf.TargetNone, times)
	poses, err := f.poses()
	if err != nil {
		return nil, err
	}
	animation := newAnimation{Name: clip.Name, patch: p, first: float32(clip.Times[0]), still: -1}
	interpolation := gltf.InterpolationLinear
	if clip.Step {
		interpolation = gltf.InterpolationStep
	}
	moved := map[int]string{}
	for _, j := range clip.Joints {
		node, err := clip.node(f, j.Joint, moved)
		if err != nil {
			return fail(err)
		}
		own, err := movable(f, p, node)
		if err != nil {
			return fail(err)
		}
		atRest := own
		if poses.posed[node] {
			atRest = poses.rest[node]
		}
		output := p.addAccessor(gltf.Accessor{
			ComponentType: gltf.ComponentFloat, Type: gltf.AccessorVec4, Count: count,
		}, gltf.TargetNone, localKeys(atRest.rotation, j.FromRest))
		animation.add(node, gltf.TRSRotation, input, output, interpolation)
		atRest.rotation = own.rotation
		animation.hold(node, own, atRest)
	}
	for node, posed := range poses.posed {
		if _, ok := moved[node]; ok || !posed {
			continue
		}
		own, err := movable(f, p, node)
		if err != nil {
			return fail(err)
		}
		animation.hold(node, own, poses.rest[node])
	}
	p.add("animations", animation)
	return f.readBack(p)
}

// check says what is wrong with a clip, its joints' rotations included.
func (c *NewClip) check(f *File) error {
	switch {
	case len(f.Doc.Buffers) == 0:
		return fmt.Errorf("the file has no buffer, expected a character with data")
	case c.Name == "":
		return fmt.Errorf("name is empty, expected one")
	case slices.ContainsFunc(f.Doc.Animations, func(a *gltf.Animation) bool { return a.Name == c.Name }):
		return fmt.Errorf("name is that of another clip, expected a new one")
	case len(c.Times) == 0:
		return fmt.Errorf("times: none, expected one or more")
	case len(c.Joints) == 0:
		return fmt.Errorf("joints: none, expected one or more")
	}
	before := float32(0)
	for i, t := range c.Times {
		s := float32(t)
		if !(s >= 0 && s <= math.MaxFloat32) || i > 0 && s <= before {
			return fmt.Errorf("times: key %d is at %g s, expected finite times of 0 or more that grow, also as float32", i, t)
		}
		before = s
	}
	for _, j := range c.Joints {
		if len(j.FromRest) != len(c.Times) {
			return fmt.Errorf("joint %q: from rest: %d rotations, expected %d, one a time", called(f, j.Joint), len(j.FromRest), len(c.Times))
		}
		for i, q := range j.FromRest {
			if q == (quat.Number{}) || q.Real*0+q.Imag*0+q.Jmag*0+q.Kmag*0 != 0 { // only NaN and Inf leave 0 behind
				return fmt.Errorf("joint %q: from rest: key %d is %v, expected a finite rotation of non-zero length", called(f, j.Joint), i, q)
			}
		}
	}
	return nil
}

// called is what a message calls a joint that a clip names, by index perhaps.
func called(f *File, joint string) string {
	if node, err := f.node(joint); err == nil {
		return f.ref(node)
	}
	return joint
}

// node finds a joint that the clip turns.
func (c *NewClip) node(f *File, name string, moved map[int]string) (int, error) {
	node, err := f.node(name)
	if err != nil {
		return 0, fmt.Errorf("joint %q: %w", name, err)
	}
	if other, ok := moved[node]; ok {
		return 0, fmt.Errorf("joint %q: is in the clip already as %q, expected each joint once", f.ref(node), other)
	}
	moved[node] = name
	return node, nil
}

// movable is a node as it stands. Where it has a matrix, it is given the parts of it.
func movable(f *File, p *patch, node int) (own transform, err error) {
	own = ownTransform(f.Doc.Nodes[node])
	// glTF 2.0, section 3.5.3: a node that a channel moves must not have one.
	err = p.edit("nodes", node, func(o object) error {
		raw, ok := o["matrix"]
		if !ok {
			return nil
		}
		var m mgl64.Mat4
		if err := json.Unmarshal(raw, &m); err != nil {
			return err
		}
		if own, err = partsOf(m); err != nil {
			return fmt.Errorf("joint %q: %w", f.ref(node), err)
		}
		delete(o, "matrix")
		o.set("translation", own.translation)
		o.set("rotation", [4]float64{own.rotation.Imag, own.rotation.Jmag, own.rotation.Kmag, own.rotation.Real})
		o.set("scale", own.scale)
		return nil
	})
	return own, err
}

// partsOf takes a node's matrix apart, unless it has shear or is flat.
func partsOf(m mgl64.Mat4) (transform, error) {
	x, shear := takenApart(m)
	least, most := math.Inf(1), 0.
	for _, s := range x.scale {
		least, most = min(least, math.Abs(s)), max(most, math.Abs(s))
	}
	const (
		// A frame in float32, taken from its parent's there, is within it; skin at
		// an arm's length moves by some micrometres where it is left out.
		someShear = 1e-5
		flat      = 1e-7 // of the greatest scale: float32 leaves such a matrix no rotation
	)
	if !(least > flat*most) {
		return x, fmt.Errorf("its node's matrix is flat, expected one with an inverse, which clips can turn")
	}
	if !(shear <= someShear) {
		return x, fmt.Errorf("its node's matrix has a shear of %.2g, expected one of translation, rotation and scale, which clips can move", shear)
	}
	return x, nil
}

// localKeys are rotations relative to the parent as glTF stores them, x, y, z, w in
// float32; neighbours lie on one side of the double cover, as readers that do not
// choose the short way need it.
func localKeys(local quat.Number, fromRest []quat.Number) []byte {
	var out []byte
	before := quat.Number{Real: 1}
	for i, q := range fromRest {
		q = quat.Mul(local, rest.Frame{Rotation: q}.Unit())
		if i == 0 && q.Real < 0 || i > 0 && q.Real*before.Real+q.Imag*before.Imag+q.Jmag*before.Jmag+q.Kmag*before.Kmag < 0 {
			q = quat.Scale(-1, q)
		}
		before = q
		for _, x := range [4]float64{q.Imag, q.Jmag, q.Kmag, q.Real} {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(x)))
		}
	}
	return out
}
