package asset

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The same accessors as a translation and as a scale are not the same.
func TestSamplersKnowTheirPath(t *testing.T) {
	one, two := track{node: 1, path: 0, width: 3, input: 4, output: 5}, track{node: 1, path: 2, width: 3, input: 4, output: 5}
	require.NotEqual(t, samplersOf(0, []*track{&one}), samplersOf(0, []*track{&two}))
	same := one
	require.Equal(t, samplersOf(0, []*track{&one}), samplersOf(0, []*track{&same}))
	require.NotEqual(t, samplersOf(0, []*track{&one}), samplersOf(1, []*track{&one}))
}
