package chain

import (
	"math"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestRecentForgetsTheOldest(t *testing.T) {
	r := recent[float64, int]{most: 3}
	calls := 0
	ask := func(key float64) int {
		return r.of(key, func() int { calls++; return int(key) })
	}
	for _, key := range []float64{1, 2, 3, 1} {
		require.Equal(t, int(key), ask(key))
	}
	require.Equal(t, 3, calls)
	ask(4) // 2 was asked about longest ago
	ask(1)
	ask(3)
	require.Equal(t, 4, calls)
	ask(2)
	require.Equal(t, 5, calls)
	require.Len(t, r.made, 3)
	r.of(math.NaN(), func() int { calls++; return 0 })
	require.Equal(t, 6, calls)
	require.Len(t, r.made, 3)
}

// One key is made once, and while that goes on others are made.
func TestRecentMakesOnce(t *testing.T) {
	r := recent[int, int]{most: 8}
	begun, finish := make(chan struct{}), make(chan struct{})
	var calls int
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			r.of(1, func() int { calls++; close(begun); <-finish; return 7 })
		})
	}
	<-begun
	require.Equal(t, 2, r.of(2, func() int { return 2 }))
	close(finish)
	all.Wait()
	require.Equal(t, 1, calls)
	require.Equal(t, 7, r.of(1, nil))
}
