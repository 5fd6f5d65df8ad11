package asset

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A file of the greatest size that is nested at its beginning costs what its
// beginning does: 1 MiB of tokens takes seconds, some thousand of them a
// millisecond or two. The limit leaves room for the race detector and a busy
// machine.
func TestNestedFilesAreRefusedAtOnce(t *testing.T) {
	const most = 100 * time.Millisecond
	for _, unit := range []string{"[", "{", "[\n", "- ", "- - - -\n", "? ", ": ", "&a ", "!a ", "&a !a ", "- &a ", "[{"} {
		for _, before := range []string{"", "version: 1\n", "# " + strings.Repeat("[", 3000) + "\n"} {
			data := before + strings.Repeat(unit, (maxLimbFile-len(before))/len(unit))
			begin := time.Now()
			_, err := ParseLimbs("deep.yaml", []byte(data))
			took := time.Since(begin)
			require.ErrorContains(t, err, "is nested more than 16 deep, expected a limb file", "%q", unit)
			require.Less(t, took, most, "%q after %d bytes", unit, len(before))
		}
	}
}

// A long file is looked at in parts that end anywhere: within quotes that hold
// brackets, too. What is not nested is not refused for it.
func TestPartsOfAFileDoNotShow(t *testing.T) {
	const limb = "version: 1\nlimbs:\n- joint: thigh_l\n  end: shin_l\n  name: "
	for _, quote := range []string{`"`, "'"} {
		for at := range 40 {
			name := strings.Repeat("[", 100)
			filler := "#" + strings.Repeat("x", firstTokens-len(limb)-2-at) + "\n"
			data := filler + limb + quote + name + quote + "\n"
			limbs, err := ParseLimbs("long.yaml", []byte(data))
			require.NoError(t, err)
			require.Equal(t, name, limbs.Limbs[0].Name)
		}
	}
}
