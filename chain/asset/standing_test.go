package asset

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A person stands; a beast on four legs, and who lies or hangs head down, does not, nor
// does a character of which names tell too little.
func TestStanding(t *testing.T) {
	for what, c := range map[string]struct {
		skeleton string
		want     bool
	}{
		"person":    {"pelvis @ 0 1 0\n\tthigh_l @ 0.1 0 0\n\tthigh_r @ -0.1 0 0\n\tchest @ 0 0.4 0\n\t\tupperarm_l @ 0.2 0 0\n\t\tupperarm_r @ -0.2 0 0", true},
		"bowed":     {"pelvis @ 0 1 0\n\tthigh_l @ 0.1 0 0\n\tthigh_r @ -0.1 0 0\n\thead @ 0 0.4 0.35", true},
		"beast":     {"pelvis @ 0 1 0\n\tthigh_l @ 0.1 0 0\n\tthigh_r @ -0.1 0 0\n\tupperarm_l @ 0.1 0 1\n\tupperarm_r @ -0.1 0 1\n\thead @ 0 0.6 1.4", false},
		"forelegs":  {"pelvis @ 0 1 0\n\thind_thigh_l @ 0.1 0 0\n\thind_thigh_r @ -0.1 0 0\n\tfront_thigh_l @ 0.1 0 1\n\tfront_thigh_r @ -0.1 0 1", false},
		"head down": {"pelvis @ 0 1 0\n\tthigh_l @ 0.1 0 0\n\tthigh_r @ -0.1 0 0\n\thead @ 0 -0.6 0", false},
		"no thighs": {"pelvis @ 0 1 0\n\thead @ 0 0.6 0", false},
		"one thigh": {"pelvis @ 0 1 0\n\tthigh_l @ 0.1 0 0\n\thead @ 0 0.6 0", false},
		"no head":   {"pelvis @ 0 1 0\n\tthigh_l @ 0.1 0 0\n\tthigh_r @ -0.1 0 0", false},
	} {
		f := decodeSkeleton(t, c.skeleton)
		e, err := f.Evaluator()
		require.NoError(t, err)
		find := newFinder(f, e, DefaultNames)
		require.Equal(t, c.want, find.standing(), what)
	}
}
