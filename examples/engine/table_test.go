package engine

import (
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
)

var write = flag.Bool("write", false, "write expected.txt instead of comparing it")

// The committed table is what the Go library gives, so that the hosts in other
// languages are held against something that has not been through C.
func TestTableIsWhatGoGives(t *testing.T) {
	got := table(t)
	if *write {
		require.NoError(t, os.WriteFile("expected.txt", []byte(got), 0o644))
	}
	want, err := os.ReadFile("expected.txt")
	require.NoError(t, err)
	require.Equal(t, string(want), got)
}

const head = `# Segments of a crowd's limbs, float32 bits as hexadecimal words: frame, limb,
# character, and x y z w of each segment; or frame, limb, "all" and the FNV-1a hash
# of all characters' words, a word at a time.
# Written by go test ./examples/engine -write, from chain.NewBatch.
`

// table is the frames, limbs and characters that the hosts compare: the first
// and the last character of each half of the crowd, and a hash of all of it.
func table(t *testing.T) string {
	var b strings.Builder
	b.WriteString(head)
	for limb := range limbs {
		batch := chain.NewBatch[float32](solverOf(t, limb))
		for _, frame := range []int{0, 1, 59, 1800, 3599} {
			words := solve(t, batch, frame, limb)
			for _, character := range []int{0, 999, 1000, 1999} {
				fmt.Fprintf(&b, "%d %d %d", frame, limb, character)
				for _, f := range words[4*segments*character : 4*segments*(character+1)] {
					fmt.Fprintf(&b, " %08x", math.Float32bits(f))
				}
				b.WriteByte('\n')
			}
			fmt.Fprintf(&b, "%d %d all %016x\n", frame, limb, hash(words))
		}
	}
	return b.String()
}

func hash(words []float32) uint64 {
	h := uint64(14695981039346656037)
	for _, f := range words {
		h = (h ^ uint64(math.Float32bits(f))) * 1099511628211
	}
	return h
}
