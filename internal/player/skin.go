package player

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"
)

// readSkins gathers the primitives of the nodes that have a mesh and a skin,
// in node order.
func (s *Scene) readSkins() error {
	for i, n := range s.doc.Nodes {
		if n.Mesh == nil || n.Skin == nil {
			continue
		}
		if *n.Mesh < 0 || *n.Mesh >= len(s.doc.Meshes) || *n.Skin < 0 || *n.Skin >= len(s.doc.Skins) {
			return fmt.Errorf("node %d: mesh %d, skin %d", i, *n.Mesh, *n.Skin)
		}
		for j := range s.doc.Meshes[*n.Mesh].Primitives {
			p, err := s.readPart(i, *n.Mesh, j, s.doc.Skins[*n.Skin])
			if err != nil {
				return fmt.Errorf("node %d: primitive %d: %w", i, j, err)
			}
			s.parts = append(s.parts, p)
		}
	}
	return nil
}

func (s *Scene) readPart(node, mesh, primitive int, skin skin) (part, error) {
	m := s.doc.Meshes[mesh]
	attributes := m.Primitives[primitive].Attributes
	p := part{node: node, joints: skin.Joints, morph: m.Weights}
	if w := s.doc.Nodes[node].Weights; w != nil {
		p.morph = w
	}
	for _, joint := range skin.Joints {
		if joint < 0 || joint >= len(s.doc.Nodes) {
			return p, fmt.Errorf("joint %d of %d nodes", joint, len(s.doc.Nodes))
		}
		p.inverse = append(p.inverse, mgl64.Ident4())
	}
	if skin.InverseBindMatrices != nil {
		rows, err := s.doc.rows(*skin.InverseBindMatrices)
		if err != nil {
			return p, err
		}
		if len(rows) < len(p.inverse) {
			return p, fmt.Errorf("%d inverse bind matrices for %d joints", len(rows), len(p.inverse))
		}
		for i := range p.inverse {
			p.inverse[i] = mgl64.Mat4(rows[i])
		}
	}
	index, found := attributes["POSITION"]
	if !found {
		return p, fmt.Errorf("no POSITION")
	}
	var err error
	if p.positions, err = s.doc.rows(index); err != nil {
		return p, err
	}
	for _, target := range m.Primitives[primitive].Targets {
		displacement := make([][]float64, len(p.positions))
		if index, found := target["POSITION"]; found {
			if displacement, err = s.doc.rows(index); err != nil {
				return p, err
			}
		}
		p.targets = append(p.targets, displacement)
	}
	return p, s.readInfluences(&p, attributes)
}

// readInfluences takes every JOINTS_n and WEIGHTS_n pair.
func (s *Scene) readInfluences(p *part, attributes map[string]int) error {
	p.influence = make([][]Influence, len(p.positions))
	for set := 0; ; set++ {
		j, hasJoints := attributes[fmt.Sprintf("JOINTS_%d", set)]
		w, hasWeights := attributes[fmt.Sprintf("WEIGHTS_%d", set)]
		if hasJoints != hasWeights {
			return fmt.Errorf("JOINTS_%d without WEIGHTS_%d or the reverse", set, set)
		}
		if !hasJoints {
			if set == 0 {
				return fmt.Errorf("no JOINTS_0")
			}
			return nil
		}
		joints, err := s.doc.rows(j)
		if err != nil {
			return err
		}
		weights, err := s.doc.rows(w)
		if err != nil {
			return err
		}
		if len(joints) != len(p.positions) || len(weights) != len(p.positions) {
			return fmt.Errorf("set %d: %d joints and %d weights for %d vertices", set, len(joints), len(weights), len(p.positions))
		}
		for v := range joints {
			for k, weight := range weights[v] {
				if weight == 0 {
					continue
				}
				index := int(joints[v][k])
				if index >= len(p.joints) {
					return fmt.Errorf("vertex %d: joint %d of %d", v, index, len(p.joints))
				}
				name := s.doc.Nodes[p.joints[index]].Name
				p.influence[v] = append(p.influence[v], Influence{Joint: name, Weight: weight, index: index})
			}
		}
	}
}
