package asset

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/qmuntal/gltf"
)

// inverseBind reads a skin's inverse bind matrices, one a joint; a skin
// without them has identities (glTF 2.0, section 3.7.3).
func (f *File) inverseBind(skin int) ([]mgl64.Mat4, error) {
	s := f.Doc.Skins[skin]
	if s.InverseBindMatrices == nil {
		out := make([]mgl64.Mat4, len(s.Joints))
		for i := range out {
			out[i] = mgl64.Ident4()
		}
		return out, nil
	}
	out, err := f.matrices(*s.InverseBindMatrices)
	if err != nil {
		return nil, fmt.Errorf("skin %d: %w", skin, err)
	}
	if len(out) < len(s.Joints) {
		return nil, fmt.Errorf("skin %d: %d inverse bind matrices for %d joints, expected one a joint", skin, len(out), len(s.Joints))
	}
	return out, nil
}

// influenceSets is how many JOINTS_n and WEIGHTS_n pairs a primitive has.
func influenceSets(p *gltf.Primitive) int {
	sets := 0
	for {
		_, joints := p.Attributes[fmt.Sprintf("JOINTS_%d", sets)]
		_, weights := p.Attributes[fmt.Sprintf("WEIGHTS_%d", sets)]
		if !joints || !weights {
			return sets
		}
		sets++
	}
}

// skinnedPrimitive decodes positions and influences; nil where the primitive
// has none. joints is how many the skin has: no vertex may name another.
func (f *File) skinnedPrimitive(p *gltf.Primitive, joints int) (*skinnedVertices, error) {
	sets := influenceSets(p)
	position, ok := p.Attributes[gltf.POSITION]
	if sets == 0 || !ok {
		return nil, nil
	}
	out := &skinnedVertices{}
	var err error
	if out.positions, err = f.floats(position, 3); err != nil {
		return nil, fmt.Errorf("POSITION: %w", err)
	}
	for set := range sets {
		influences, err := f.readInfluences(p, set, len(out.positions)/3, joints)
		if err != nil {
			return nil, err
		}
		out.influences = append(out.influences, influences)
	}
	out.bindUnweighted(joints)
	return out, nil
}

func (f *File) readInfluences(p *gltf.Primitive, set, vertices, joints int) ([]influence, error) {
	jointsName, weightsName := fmt.Sprintf("JOINTS_%d", set), fmt.Sprintf("WEIGHTS_%d", set)
	names, err := f.joints(p.Attributes[jointsName])
	if err != nil {
		return nil, fmt.Errorf("%s: %w", jointsName, err)
	}
	if a := f.Doc.Accessors[p.Attributes[weightsName]]; a.ComponentType != gltf.ComponentFloat && !a.Normalized {
		return nil, fmt.Errorf("%s: accessor %d holds integers that are not normalized, expected floats or normalized integers", weightsName, p.Attributes[weightsName])
	}
	weights, err := f.floats(p.Attributes[weightsName], 4)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", weightsName, err)
	}
	if len(names) != vertices || len(weights) != 4*vertices {
		return nil, fmt.Errorf("%s has %d and %s %d entries, expected %d, one a vertex", jointsName, len(names), weightsName, len(weights)/4, vertices)
	}
	out := make([]influence, vertices)
	for v := range out {
		out[v].joints = names[v]
		copy(out[v].weights[:], weights[4*v:])
		for k, weight := range out[v].weights {
			if weight < 0 {
				return nil, fmt.Errorf("%s: vertex %d: weight %g, expected 0 or more", weightsName, v, weight)
			}
			if weight > 0 && int(names[v][k]) >= joints {
				return nil, fmt.Errorf("%s: vertex %d: joint %d, expected one of the skin's %d", jointsName, v, names[v][k], joints)
			}
		}
	}
	return out, nil
}

// triangleIndices lists the corners of a primitive's triangles, three each.
func (f *File) triangleIndices(p *gltf.Primitive, vertices int) ([]int, error) {
	if p.Mode != gltf.PrimitiveTriangles {
		return nil, nil
	}
	if p.Indices == nil {
		out := make([]int, vertices)
		for i := range out {
			out[i] = i
		}
		return out, nil
	}
	read, err := f.floats(*p.Indices, 1)
	if err != nil {
		return nil, fmt.Errorf("indices: %w", err)
	}
	out := make([]int, len(read))
	for i, x := range read {
		if x < 0 || x >= float64(vertices) {
			return nil, fmt.Errorf("indices: %d-th is %g, expected under %d", i, x, vertices)
		}
		out[i] = int(x)
	}
	return out, nil
}
