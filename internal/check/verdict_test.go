package check

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestVerdict(t *testing.T) {
	for _, c := range []struct {
		kind                  Kind
		before, after, volume float64
		want                  string
	}{
		{Twist, 0.82, 0.92, 1, "better: 82 % to 92 %"},
		{Twist, 0.82, 0.97, 1.3, "better: 82 % to 97 %, volume 130 %"},
		{Twist, 0.87, 0.80, 1, "worse: 87 % to 80 %"},
		{Twist, 0.98, 0.98, 1.15, "same, holds"},
		{Twist, 0.98, 0.98, 0.84, "same, holds, volume 84 %"},
		{Twist, 0.98, 0.98, math.NaN(), "same, holds"},
		{Twist, 0.90, 0.90, 1, "same, narrows (weights or mesh)"},
		{Corner, 0.90, 0.90, 1, "same, narrows (bend)"},
		{Corner, 0.80, 0.80, 0.5, "same, collapses (bend)"},
		{Clip, 0.80, 0.80, 1, "same, collapses (bend or mesh)"},
		{Clip, 0.80, math.NaN(), 1, "not measured"},
	} {
		p := Pose{Kind: c.kind, Before: Loss{Radius: c.before, Volume: c.volume}, After: Loss{Radius: c.after, Volume: c.volume}}
		require.Equal(t, c.want, p.verdict())
		require.Equal(t, c.want == "same, holds" && c.volume > 0, p.HoldsEitherWay(), c.want)
	}
}

// What could not be measured is null.
func TestUnmeasuredAsJSON(t *testing.T) {
	data, err := json.Marshal(Pose{Kind: Twist, Clip: posesClip, Time: 3, Before: Loss{Radius: 1, Volume: math.NaN(), Steepest: math.NaN()}})
	require.NoError(t, err)
	require.JSONEq(t, `{"limb":"","pose":"","kind":"twist","clip":null,"time_s":null,"verdict":"",
		"one_joint":{"at":0,"least_radius":1,"volume":null,"steepest_twist_deg":null},
		"split":{"at":0,"least_radius":0,"volume":0,"steepest_twist_deg":0}}`, string(data))
	data, err = json.Marshal(Count{Radius: math.NaN(), DualVolume: math.Copysign(0, -1)})
	require.NoError(t, err)
	require.Contains(t, string(data), `"least_radius":null`)
	require.NotContains(t, string(data), "-0")
}
