package player

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// constraint is a node's VRMC_node_constraint 1.0 (README of the extension in the
// repository of the VRM specification); one of its members is set.
type constraint struct {
	Roll, Aim, Rotation *struct {
		Source   int      `json:"source"`
		RollAxis string   `json:"rollAxis"`
		AimAxis  string   `json:"aimAxis"`
		Weight   *float64 `json:"weight"`
	}
}

// Turned is the rest pose with some nodes' rotations (x, y, z, w, by name) in place of
// those at rest. It panics on a name that there is not.
func (s *Scene) Turned(rotations map[string][4]float64) Pose {
	local := append([]transform(nil), s.rest...)
	for name, q := range rotations {
		local[s.node(name)].rotation = q[:]
	}
	return s.stand(local)
}

// Constrained is the pose with every constraint worked out. It panics on constraints
// that wait for one another and on ones that are malformed.
func (p Pose) Constrained() Pose {
	c := constrained{scene: p.scene, local: append([]transform(nil), p.local...), state: make([]int, len(p.local))}
	for i := range c.local {
		c.solve(i)
	}
	out := p.scene.stand(c.local)
	out.morph = p.morph
	return out
}

// constrained works a pose's constraints out, each after what it depends on.
type constrained struct {
	scene *Scene
	local []transform
	state []int // of each node: 0 to do, 1 under way, 2 done
}

func (c *constrained) solve(i int) {
	if c.state[i] == 1 {
		panic(fmt.Sprintf("player: node %d: its constraint waits for itself", i))
	}
	if c.state[i] == 2 {
		return
	}
	c.state[i] = 1
	if on := c.scene.doc.Nodes[i].Extensions.Constraint; on != nil {
		if c.local[i].matrix != nil {
			panic(fmt.Sprintf("player: node %d has a matrix and a constraint", i))
		}
		to, weight := c.target(i, &on.Constraint)
		c.local[i].rotation = slerp(list(rotationOf(c.scene.rest[i])), list(to), weight)
	}
	c.state[i] = 2
}

// world is a node's transform, for which all above it has to be done.
func (c *constrained) world(i int) mgl64.Mat4 {
	c.solve(i)
	return c.at(i)
}

// target is the rotation with all of a constraint's weight, and the weight: the
// standard's pseudocode.
func (c *constrained) target(i int, on *constraint) (mgl64.Quat, float64) {
	destination := rotationOf(c.scene.rest[i])
	weight := func(w *float64) float64 {
		if w == nil {
			return 1
		}
		return *w
	}
	change := func(source int) (atRest, delta mgl64.Quat) {
		c.solve(source)
		atRest = rotationOf(c.scene.rest[source])
		return atRest, atRest.Inverse().Mul(rotationOf(c.local[source]))
	}
	switch {
	case on.Rotation != nil:
		_, delta := change(on.Rotation.Source)
		return destination.Mul(delta), weight(on.Rotation.Weight)
	case on.Roll != nil:
		atRest, delta := change(on.Roll.Source)
		inParent := atRest.Mul(delta).Mul(atRest.Inverse())
		seen := destination.Inverse().Mul(inParent).Mul(destination)
		axis := map[string]mgl64.Vec3{"X": {1, 0, 0}, "Y": {0, 1, 0}, "Z": {0, 0, 1}}[on.Roll.RollAxis]
		back := arc(axis, seen.Rotate(axis)).Inverse()
		return destination.Mul(back).Mul(seen), weight(on.Roll.Weight)
	case on.Aim != nil:
		axis, ok := map[string]mgl64.Vec3{
			"PositiveX": {1, 0, 0}, "NegativeX": {-1, 0, 0}, "PositiveY": {0, 1, 0},
			"NegativeY": {0, -1, 0}, "PositiveZ": {0, 0, 1}, "NegativeZ": {0, 0, -1},
		}[on.Aim.AimAxis]
		if !ok {
			panic(fmt.Sprintf("player: node %d: aim axis %q", i, on.Aim.AimAxis))
		}
		parent := mgl64.QuatIdent()
		if above := c.scene.parent[i]; above >= 0 {
			parent = turnOf(c.world(above))
		}
		from := parent.Mul(destination).Rotate(axis)
		here := mgl64.TransformCoordinate(mgl64.Vec3{}, c.at(i))
		to := c.world(on.Aim.Source).Col(3).Vec3().Sub(here)
		return parent.Inverse().Mul(arc(from, to.Normalize())).Mul(parent).Mul(destination), weight(on.Aim.Weight)
	}
	panic(fmt.Sprintf("player: node %d: no constraint in its constraint", i))
}

// at is where a node stands: its own rotation, which is not known yet, plays no part.
func (c *constrained) at(i int) mgl64.Mat4 {
	m := c.local[i].mat4()
	if parent := c.scene.parent[i]; parent >= 0 {
		m = c.world(parent).Mul4(m)
	}
	return m
}

func rotationOf(t transform) mgl64.Quat {
	q := append([]float64(nil), t.rotation...)
	normalise(q)
	return mgl64.Quat{W: q[3], V: mgl64.Vec3{q[0], q[1], q[2]}}
}

func list(q mgl64.Quat) []float64 { return []float64{q.V[0], q.V[1], q.V[2], q.W} }

// turnOf is the rotation of a matrix of rotations and even scales.
func turnOf(m mgl64.Mat4) mgl64.Quat {
	size := math.Cbrt(m.Mat3().Det())
	return mgl64.Mat4ToQuat(m.Mat3().Mul(1 / size).Mat4())
}

// arc is the smallest rotation from one direction to another.
func arc(from, to mgl64.Vec3) mgl64.Quat {
	return mgl64.Quat{W: 1 + from.Dot(to), V: from.Cross(to)}.Normalize()
}

func (s *Scene) node(name string) int {
	for i, n := range s.doc.Nodes {
		if n.Name == name {
			return i
		}
	}
	panic(fmt.Sprintf("player: no node %q", name))
}
