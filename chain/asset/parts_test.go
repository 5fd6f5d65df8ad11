package asset

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever the parts, a stretch of them is that of their concatenation.
func TestParts(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var p, q parts
		var whole []byte
		for _, part := range rapid.SliceOf(rapid.SliceOfN(rapid.Byte(), 0, 5)).Draw(r, "parts") {
			p.add(part)
			whole = append(whole, part...)
		}
		require.Equal(r, len(whole), p.size)
		from := rapid.IntRange(0, len(whole)).Draw(r, "from")
		to := rapid.IntRange(from, len(whole)).Draw(r, "to")
		q.pad(from, 8)
		require.Equal(r, from%8, q.size)
		before := q.size
		q.addFrom(&p, from, to)
		require.True(r, bytes.Equal(whole[from:to], bytes.Join(q.slices, nil)[before:]))
	})
}
