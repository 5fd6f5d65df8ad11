package engine

import (
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Steps are refused where two rotations share a number, and nowhere else.
func TestNoOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		small := rapid.IntRange(1, 12)
		n, segments := small.Draw(t, "n"), small.Draw(t, "segments")
		dst := chain.Rotations[float32]{Stride: rapid.IntRange(1, 40).Draw(t, "stride"), Segment: rapid.IntRange(1, 40).Draw(t, "segment")}
		taken, twice := map[int]bool{}, false
		for j := range n {
			for i := range segments {
				at := j*dst.Stride + i*dst.Segment
				twice = twice || taken[at]
				taken[at] = true
			}
		}
		err := noOverlap(&dst, n, segments)
		require.Equal(t, twice, err != nil)
		if err == nil {
			return
		}
		require.Equal(t, BadArgument, StatusOfError(err))
		dst.Stride = dst.Segment*(segments-1) + 1 // what the message proposes
		require.ErrorContains(t, err, "such as a stride of ")
		require.NoError(t, noOverlap(&dst, n, segments))
	})
}
