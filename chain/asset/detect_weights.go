package asset

import "fmt"

// weightedJoints are the nodes that some vertex leans on.
func (f *File) weightedJoints() (map[int]bool, error) {
	out := map[int]bool{}
	type pair struct{ skin, mesh int }
	seen := map[pair]bool{}
	for _, n := range f.Doc.Nodes {
		if n.Mesh == nil || n.Skin == nil || seen[pair{*n.Skin, *n.Mesh}] {
			continue
		}
		seen[pair{*n.Skin, *n.Mesh}] = true
		joints := f.Doc.Skins[*n.Skin].Joints
		for i, primitive := range f.Doc.Meshes[*n.Mesh].Primitives {
			for set := range influenceSets(primitive) {
				if err := f.markWeighted(out, joints, primitive.Attributes, set); err != nil {
					return nil, fmt.Errorf("mesh %d: primitive %d: %w", *n.Mesh, i, err)
				}
			}
		}
	}
	return out, nil
}

func (f *File) markWeighted(out map[int]bool, joints []int, attributes map[string]int, set int) error {
	indices, err := f.joints(attributes[fmt.Sprintf("JOINTS_%d", set)])
	if err != nil {
		return err
	}
	weights, err := f.floats(attributes[fmt.Sprintf("WEIGHTS_%d", set)], 4)
	if err != nil {
		return err
	}
	marked := make([]bool, len(joints))
	for v := 0; v < len(indices) && 4*v+3 < len(weights); v++ {
		for k, joint := range indices[v] {
			if weights[4*v+k] > 0 && int(joint) < len(marked) {
				marked[joint] = true
			}
		}
	}
	for i, is := range marked {
		if is {
			out[joints[i]] = true
		}
	}
	return nil
}
