package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestSqueezed(t *testing.T) {
	rest := []r3.Vec{{}, {X: 2}, {X: 0.5, Y: 1}}
	triangle := [][3]int{{0, 1, 2}}
	apply := func(f func(r3.Vec) r3.Vec) []r3.Vec {
		out := make([]r3.Vec, len(rest))
		for i, v := range rest {
			out[i] = f(v)
		}
		return out
	}
	turn := r3.NewRotation(1.3, r3.Vec{X: 1, Y: 2, Z: 3})
	for _, c := range []struct {
		name string
		f    func(r3.Vec) r3.Vec
		want float64
	}{
		{"rest", func(v r3.Vec) r3.Vec { return v }, 0},
		{"turned", turn.Rotate, 0},
		{"stretched", func(v r3.Vec) r3.Vec { return r3.Vec{X: 3 * v.X, Y: 2 * v.Y} }, 0},
		{"squeezed and turned", func(v r3.Vec) r3.Vec { return turn.Rotate(r3.Vec{X: 0.6 * v.X, Y: v.Y}) }, 0.4},
		// A shear by s has the principal stretches (sqrt(s^2+4) ± s)/2.
		{"sheared", func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X + v.Y, Y: v.Y} }, 1 - (math.Sqrt(5)-1)/2},
		{"pressed to a line", func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X} }, 1},
	} {
		require.InDelta(t, c.want, Squeezed(rest, apply(c.f), triangle)[0], 1e-7, c.name)
	}
	require.Equal(t, []float64{0}, Squeezed([]r3.Vec{{}, {X: 1}, {X: 2}}, rest, triangle), "no area at rest")
}

func TestOntoVertices(t *testing.T) {
	rest := []r3.Vec{{}, {X: 1}, {Y: 1}, {X: -3}}
	triangles := [][3]int{{0, 1, 2}, {0, 2, 3}}
	areas := Areas(rest, triangles)
	require.Equal(t, []float64{0.5, 1.5}, areas)
	require.Equal(t, []float64{0.75, 0, 0.75, 1}, OntoVertices([]float64{0, 1}, areas, triangles, 4))
}
