package skin

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestMarks(t *testing.T) {
	m := Mesh{
		Influences: [][]Influence{{{0, 1}}, {{0, 0.6}, {1, 0.4}}, {{1, 1}}, {{2, 1}}, {{0, 1}, {2, 0}}},
		Triangles:  [][3]int{{0, 1, 4}, {0, 1, 2}, {1, 2, 2}, {3, 3, 3}, {0, 9, -1}},
	}
	require.Equal(t, []bool{true, true, true, false, false}, m.TrianglesOf(nil, 1))
	require.Equal(t, []bool{false, false, false, true, false}, m.TrianglesOf(nil, 2), "no weight is no hold")
	require.Equal(t, []bool{true, true, true, true, true}, m.TrianglesOf(make([]bool, 9), 0, 1, 2))
	a, b := m.Sides([]int{0}, []int{1})
	require.Equal(t, []bool{true, true, false, false, true}, a)
	require.Equal(t, []bool{false, false, true, false, false}, b)
}
