package check

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestVerdict(t *testing.T) {
	for _, c := range []struct {
		before, after, volume float64
		want                  string
	}{
		{0.010, 0.004, 1, "better: strain -60 %"},
		{0.010, 0.004, 0.89, "better: strain -60 %, volume 89 %"},
		{0.010, 0.012, 1, "worse: strain +20 %"},
		{0.010, 0.0102, 1, "same"},
		{0.010, 0.0098, 1, "same"},
		{0.010, 0.0098, 0.93, "same, volume 93 %"},
		{1e-6, 2e-6, 1, "same"}, // nobody sees it
		{0.010, math.NaN(), 1, "not measured"},
	} {
		p := Pose{Before: Loss{Strain: c.before, Radius: 1, Volume: 1}, After: Loss{Strain: c.after, Radius: 1, Volume: c.volume}, Outcome: outcomeOf(c.before, c.after)}
		require.Equal(t, c.want, p.verdict())
		require.Equal(t, c.want == "same", p.IsAlike(), c.want)
	}
}

// A clip is worse if any of its moments is, whatever the others gain.
func TestTally(t *testing.T) {
	f := Findings{Limbs: []Limb{{}}}
	for _, p := range []struct {
		number  int
		outcome Outcome
	}{{1, Better}, {1, Worse}, {2, Same}, {2, Better}, {3, Same}} {
		f.Poses = append(f.Poses, Pose{Kind: Clip, Number: p.number, Outcome: p.outcome})
	}
	f.Poses = append(f.Poses, Pose{Kind: Twist, Number: 5, Outcome: Better}, Pose{Kind: Corner, Number: 5, Outcome: Unmeasured})
	f.tally(4)
	require.Equal(t, "In 4 clips of the character: 1 better, 1 worse, 2 same.", f.ClipsVerdict)
	require.Equal(t, "In 2 synthetic poses: 1 better, 0 worse, 0 same, 1 not measured.", f.SyntheticVerdict)
	f = Findings{}
	f.tally(4)
	require.Equal(t, "No limb is split: the split is the source.", f.ClipsVerdict)
}

func TestMoments(t *testing.T) {
	for _, c := range []struct {
		source, split []float64
		want          []moment
	}{
		{[]float64{.01, .03, .02}, []float64{.01, .01, .02}, []moment{{1, []string{sourceMost, differMost}}, {2, []string{splitMost}}}},
		// One frame in which the split flips outweighs all that it gains.
		{[]float64{.01, .03, .02}, []float64{.02, .01, .01}, []moment{{0, []string{splitMost, differMost}}, {1, []string{sourceMost}}}},
		{[]float64{.01, .03, .02}, []float64{.01, .03, .02}, []moment{{1, []string{sourceMost, splitMost}}}},
	} {
		require.Equal(t, c.want, moments(c.source, c.split))
	}
}

// What could not be measured is null.
func TestUnmeasuredAsJSON(t *testing.T) {
	data, err := json.Marshal(Pose{Kind: Twist, Clip: posesClip, Time: 3, Before: Loss{Strain: math.NaN(), Radius: 1, Volume: math.NaN(), Steepest: math.NaN()}, Outcome: Unmeasured})
	require.NoError(t, err)
	require.JSONEq(t, `{"limb":"","pose":"","kind":"twist","clip":null,"time_s":null,"outcome":"not measured","verdict":"",
		"source":{"at":0,"strain":null,"minimum_radius":1,"volume":null,"steepest_twist_deg":null},
		"split":{"at":0,"strain":0,"minimum_radius":0,"volume":0,"steepest_twist_deg":0}}`, string(data))
	data, err = json.Marshal(Count{Radius: math.NaN(), DualVolume: math.Copysign(0, -1)})
	require.NoError(t, err)
	require.Contains(t, string(data), `"minimum_radius":null`)
	require.NotContains(t, string(data), "-0")
	// No clip keys it: 0 degrees would say that one holds it still.
	data, err = json.Marshal(Limb{RadiusAtTwist: math.NaN()})
	require.NoError(t, err)
	require.Contains(t, string(data), `"clips_twist_deg":null,"radius_at_90_deg":null`)
}
