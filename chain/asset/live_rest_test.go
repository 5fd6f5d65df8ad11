package asset

import (
	"testing"

	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// Constraints take the nodes' pose for rest.
func TestLiveNeedsTheBindPose(t *testing.T) {
	f, _ := bindFile(t, fixture.Options{Posed: true})
	_, report, err := Split(f, Options{AsAsked: true, Live: LiveBesideClips})
	require.NoError(t, err)
	for _, l := range report.Limbs {
		require.False(t, l.Live.Written, l.Joint)
		require.Contains(t, l.Live.Why, "bind pose")
	}
}
