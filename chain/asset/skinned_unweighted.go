package asset

import "fmt"

// bindUnweighted gives each vertex whose weights are all 0 to the joint in its
// first slot, with weight 1. Viewers do the same: SkinnedMesh.normalizeSkinWeights
// of three.js sets the weights of such a vertex to (1, 0, 0, 0). Left at 0 the
// vertex would stand at the origin. joints is how many joints the skin has; a slot
// that names none of them is set to the first. The accessor reader has read NaN
// as 0 before: exporters write 0/0 for vertices without weight.
func (s *skinnedVertices) bindUnweighted(joints int) {
	for v := range s.influences[0] {
		if s.isWeighted(v) {
			continue
		}
		s.unweighted = append(s.unweighted, v)
		first := &s.influences[0][v]
		first.weights[0] = 1
		if int(first.joints[0]) >= joints {
			first.joints[0] = 0
		}
	}
}

func (s *skinnedVertices) isWeighted(v int) bool {
	for _, set := range s.influences {
		if set[v].weights != [4]float64{} {
			return true
		}
	}
	return false
}

// unweightedWarnings names the meshes with vertices without weight, each once.
func (e *Evaluator) unweightedWarnings() (out []string) {
	type primitive struct{ mesh, primitive int }
	seen := map[primitive]bool{}
	count := map[int]int{}
	var order []int
	for _, worn := range e.worn {
		at := primitive{worn.mesh, worn.primitive}
		if seen[at] || len(worn.unweighted) == 0 {
			continue
		}
		seen[at] = true
		if count[worn.mesh] == 0 {
			order = append(order, worn.mesh)
		}
		count[worn.mesh] += len(worn.unweighted)
	}
	for _, mesh := range order {
		name := fmt.Sprintf("mesh %d", mesh)
		if given := e.file.Doc.Meshes[mesh].Name; given != "" {
			name = fmt.Sprintf("mesh %q", given)
		}
		vertices := "1 vertex has no weight and follows its first joint"
		if n := count[mesh]; n > 1 {
			vertices = fmt.Sprintf("%d vertices have no weight and each follows its first joint", n)
		}
		out = append(out, fmt.Sprintf("%s: %s, as in viewers", name, vertices))
	}
	return out
}
