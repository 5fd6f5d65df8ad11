package asset

import (
	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/spatial/r3"
)

// Mesh is all that the evaluator skins as one mesh in the pose [Rest]: vertices and
// triangles in the order of [Evaluator.Vertices] and [Evaluator.Triangles], in the
// world, with nodes for joints.
func (e *Evaluator) Mesh() (skin.Mesh, error) {
	triangles, err := e.Triangles()
	if err != nil {
		return skin.Mesh{}, err
	}
	m := skin.Mesh{Positions: e.Vertices(e.World(Rest, 0)), Triangles: triangles}
	m.Influences = make([][]skin.Influence, 0, len(m.Positions))
	for i := range e.worn {
		worn := &e.worn[i]
		joints := e.file.Doc.Skins[worn.skin].Joints
		for v := range len(worn.positions) / 3 {
			var held []skin.Influence
			for _, set := range worn.influences {
				for k, weight := range set[v].weights {
					if weight > 0 {
						held = append(held, skin.Influence{Joint: joints[set[v].joints[k]], Weight: weight})
					}
				}
			}
			m.Influences = append(m.Influences, held)
		}
	}
	return m, nil
}

// Blended is [Evaluator.Vertices] by dual-quaternion skinning, from the mesh at rest
// that [Evaluator.Mesh] gives: what an engine shows that blends so. That is exact
// where skins agree on the bind pose. Scale and shear of joints are
// left out. dst is overwritten, grown if need be, and returned.
func (e *Evaluator) Blended(dst []r3.Vec, m skin.Mesh, world []mgl64.Mat4) []r3.Vec {
	atRest := e.World(Rest, 0)
	moved := make([]mgl64.Mat4, len(world))
	origins := make([]r3.Vec, len(world))
	for i := range world {
		moved[i] = mgl64.Ident4()
		if inverse, ok := inverted(atRest[i]); ok {
			moved[i] = world[i].Mul4(inverse)
		}
		origins[i] = rest.VecFromMgl64(atRest[i].Col(3).Vec3())
	}
	frames, _ := skin.Rigid(nil, moved, origins)
	return skin.DualQuaternion(dst, m, frames)
}
