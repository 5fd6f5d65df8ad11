package player

import (
	"github.com/go-gl/mathgl/mgl64"
)

// Pose is a scene at one moment.
type Pose struct {
	scene *Scene
	world []mgl64.Mat4
	local []transform
	morph map[int][]float64 // animated morph weights by node
}

// Pose plays a clip to time t, in seconds; clip "" is the rest pose. Times
// outside a track hold its nearest key.
func (s *Scene) Pose(clip string, t float64) Pose {
	local := append([]transform(nil), s.rest...)
	morph := map[int][]float64{}
	if clip != "" {
		for _, tr := range s.clip(clip).tracks {
			switch v := tr.at(t); tr.path {
			case "translation":
				local[tr.node].translation = v
			case "rotation":
				local[tr.node].rotation = v
			case "scale":
				local[tr.node].scale = v
			case "weights":
				morph[tr.node] = v
			}
		}
	}
	p := s.stand(local)
	p.morph = morph
	return p
}

// stand puts nodes where their local transforms have them.
func (s *Scene) stand(local []transform) Pose {
	p := Pose{scene: s, world: make([]mgl64.Mat4, len(local)), local: local}
	for _, i := range s.order {
		p.world[i] = local[i].mat4()
		if parent := s.parent[i]; parent >= 0 {
			p.world[i] = p.world[parent].Mul4(p.world[i])
		}
	}
	return p
}

// mat4 is T·R·S (specification section 3.5.3).
func (t transform) mat4() mgl64.Mat4 {
	if t.matrix != nil {
		return *t.matrix
	}
	q := append([]float64(nil), t.rotation...)
	normalise(q)
	r := mgl64.Quat{W: q[3], V: mgl64.Vec3{q[0], q[1], q[2]}}.Mat4()
	return mgl64.Translate3D(t.translation[0], t.translation[1], t.translation[2]).Mul4(r).
		Mul4(mgl64.Scale3D(t.scale[0], t.scale[1], t.scale[2]))
}

// World is a node's transform, from its own frame to the world. It panics when
// no node has the name.
func (p Pose) World(node string) mgl64.Mat4 {
	return p.world[p.scene.node(node)]
}

// Rotation is a node's own rotation, x, y, z, w. It panics when no node has the name.
func (p Pose) Rotation(node string) [4]float64 {
	q := rotationOf(p.local[p.scene.node(node)])
	return [4]float64{q.V[0], q.V[1], q.V[2], q.W}
}

// Vertices are the positions of every vertex of every skinned primitive in the
// world, by linear-blend skinning: each joint's world matrix times its inverse
// bind matrix, weighted; the skinned node's own transform is ignored
// (specification section 3.7.3.1). Order: nodes, then primitives, then
// vertices, each as in the file.
func (p Pose) Vertices() [][3]float64 {
	var out [][3]float64
	for _, part := range p.scene.parts {
		skinning := make([]mgl64.Mat4, len(part.joints))
		for i, joint := range part.joints {
			skinning[i] = p.world[joint].Mul4(part.inverse[i])
		}
		morph := part.morph
		if animated, found := p.morph[part.node]; found {
			morph = animated
		}
		for v, position := range part.positions {
			from := mgl64.Vec3(position)
			for k, weight := range morph {
				if displacement := part.targets[k][v]; displacement != nil {
					from = from.Add(mgl64.Vec3(displacement).Mul(weight))
				}
			}
			var to mgl64.Vec3
			for _, in := range part.influence[v] {
				to = to.Add(skinning[in.index].Mul4x1(from.Vec4(1)).Vec3().Mul(in.Weight))
			}
			out = append(out, to)
		}
	}
	return out
}
