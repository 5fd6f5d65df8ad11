package parallel

import (
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestEveryPieceOnce(t *testing.T) {
	for _, workers := range []int{-1, 0, 1, 2, 7, 100} {
		for _, n := range []int{0, 1, 5, 64} {
			done := make([]atomic.Int32, n)
			On(workers, n, func(piece int) { done[piece].Add(1) })
			for i := range done {
				require.EqualValues(t, 1, done[i].Load(), "%d workers, piece %d of %d", workers, i, n)
			}
		}
	}
}

func TestPanicsReachTheCaller(t *testing.T) {
	for _, workers := range []int{1, 3} {
		require.PanicsWithValue(t, "piece 2", func() {
			On(workers, 5, func(piece int) {
				if piece == 2 {
					panic("piece 2")
				}
			})
		})
	}
}
