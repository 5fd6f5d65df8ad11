package demo

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Every edge is shared by two triangles that run along it in opposite ways, the
// triangles around a vertex form one fan, and the volume is positive: closed,
// manifold, facing outward.
func TestSkinIsClosed(t *testing.T) {
	s := body()
	triangles := s.triangles()
	edges := map[[2]int]int{}
	around := make([]int, len(s.at))
	next := make([]map[int]int, len(s.at))
	for _, f := range triangles {
		for i, v := range f {
			a, b := f[(i+1)%3], f[(i+2)%3]
			edges[[2]int{v, a}]++
			if next[v] == nil {
				next[v] = map[int]int{}
			}
			next[v][a] = b
			around[v]++
		}
	}
	for e, n := range edges {
		require.Equal(t, 1, n, "edge %v at %v runs %d times one way", e, s.at[e[0]], n)
		require.Equal(t, 1, edges[[2]int{e[1], e[0]}], "edge %v at %v %v has no twin", e, s.at[e[0]], s.at[e[1]])
	}
	for v, fan := range next {
		require.NotEmpty(t, fan, "vertex %d is on no face", v)
		var first int
		for a := range fan {
			first = a
			break
		}
		steps := 1
		for a := fan[first]; a != first; a = fan[a] {
			steps++
			require.LessOrEqual(t, steps, around[v])
		}
		require.Equal(t, around[v], steps, "the faces of vertex %d at %v are more than one fan", v, s.at[v])
	}
	// One piece of genus 0: V - E + F = 2 (Euler 1758).
	require.Equal(t, 2, len(s.at)-len(edges)/2+len(triangles))

	var volume float64
	for _, f := range triangles {
		a, b, c := s.at[f[0]], s.at[f[1]], s.at[f[2]]
		volume += r3.Dot(a, r3.Cross(b, c)) / 6
		require.Greater(t, r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))), 1e-9, "flat triangle at %v", a)
	}
	t.Logf("%d vertices, %d triangles, %.1f litres", len(s.at), len(triangles), 1000*volume)
	// A person of 1.70 m with the density of water weighs 45 to 75 kg.
	require.Greater(t, volume, 0.045)
	require.Less(t, volume, 0.075)
	require.GreaterOrEqual(t, len(s.at), 3000)
	require.LessOrEqual(t, len(s.at), 8000)
}
