package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Squeezed returns how far each triangle is squeezed: 1 less the smaller
// principal stretch from rest to posed, so 0 for a triangle that is turned or
// stretched, 1 for one pressed to a line. A triangle without area at rest, or
// one that is not finite, gives 0.
//
// The principal stretches are the square roots of the eigenvalues of G^-1 H,
// with G and H the Gram matrices of two edges at rest and posed (Cauchy-Green;
// any text on continuum mechanics, from memory).
func Squeezed(rest, posed []r3.Vec, triangles [][3]int) []float64 {
	out := make([]float64, len(triangles))
	for i, t := range triangles {
		g := gramOf(rest, t)
		h := gramOf(posed, t)
		det := g[0]*g[2] - g[1]*g[1]
		if !(det > 0) {
			continue
		}
		half := (g[2]*h[0] - 2*g[1]*h[1] + g[0]*h[2]) / (2 * det)
		product := max(h[0]*h[2]-h[1]*h[1], 0) / det
		// The smaller root of x^2 - 2 half x + product, without cancellation.
		smaller := product / (half + math.Sqrt(max(half*half-product, 0)))
		if s := 1 - math.Sqrt(smaller); s > 0 {
			out[i] = s
		}
	}
	return out
}

// gramOf is the Gram matrix of two edges of a triangle: the upper triangle, row
// by row.
func gramOf(at []r3.Vec, t [3]int) [3]float64 {
	a, b := r3.Sub(at[t[1]], at[t[0]]), r3.Sub(at[t[2]], at[t[0]])
	return [3]float64{r3.Dot(a, a), r3.Dot(a, b), r3.Dot(b, b)}
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
