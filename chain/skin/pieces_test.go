package skin_test

import (
	"testing"

	"github.com/pronate/pronate/chain/skin"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestPieces(t *testing.T) {
	positions := []r3.Vec{
		{X: 9}, // in no triangle
		{}, {X: 1}, {Y: 1},
		{Z: 5}, {X: 1, Z: 5}, {Y: 1, Z: 5},
		{X: 1}, {Y: 1}, {X: 1, Y: 1}, // beside the first triangle, across a seam
		{X: 1}, // at a place that triangles reach
	}
	piece, count := skin.Pieces(positions, [][3]int{{4, 5, 6}, {1, 2, 3}, {7, 9, 8}})
	require.Equal(t, 2, count)
	require.Equal(t, []int{-1, 0, 0, 0, 1, 1, 1, 0, 0, 0, 0}, piece)
	piece, count = skin.Pieces(nil, nil)
	require.Empty(t, piece)
	require.Zero(t, count)
}
