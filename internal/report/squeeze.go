package report

import (
	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/spatial/r3"
)

// Squeezed returns how far each triangle is squeezed: 1 less the smaller
// principal stretch from rest to posed, so 0 for a triangle that is turned or
// stretched, 1 for one pressed to a line. A triangle without area at rest, or
// one that is not finite, gives 0.
func Squeezed(rest, posed []r3.Vec, triangles [][3]int) []float64 {
	out := make([]float64, len(triangles))
	for i, strain := range skin.Strains(nil, rest, posed, triangles) {
		out[i] = strain.Squeeze()
	}
	return out
}

// Areas are the areas of triangles.
func Areas(at []r3.Vec, triangles [][3]int) []float64 {
	out := make([]float64, len(triangles))
	for i, t := range triangles {
		out[i] = r3.Norm(r3.Cross(r3.Sub(at[t[1]], at[t[0]]), r3.Sub(at[t[2]], at[t[0]]))) / 2
	}
	return out
}

// OntoVertices spreads a measure of triangles to the vertices, as means by
// area.
func OntoVertices(measure, areas []float64, triangles [][3]int, vertices int) []float64 {
	out, weight := make([]float64, vertices), make([]float64, vertices)
	for i, t := range triangles {
		for _, v := range t {
			out[v] += areas[i] * measure[i]
			weight[v] += areas[i]
		}
	}
	for v := range out {
		if weight[v] > 0 {
			out[v] /= weight[v]
		}
	}
	return out
}
