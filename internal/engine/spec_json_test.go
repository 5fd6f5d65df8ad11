package engine

import (
	"strings"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
)

func TestParseSpec(t *testing.T) {
	for text, want := range map[string]Spec{
		`{}`: {},
		` {"axis": [1, 2e0, -3], "segments": 4, "twist": "tip", "ramp": "smooth", "tip_shares": [0, 0.25, 0.5, 1]} `: {
			Axis: [3]float64{1, 2, -3}, Segments: 4, Twist: chain.Tip, Ramp: chain.Smooth, TipShares: []float64{0, .25, .5, 1},
		},
		`{"shares": "smooth", "field": "shortest", "centre": "none", "range": "none"}`: {Ramp: chain.Smooth, Field: chain.Shortest, CentreMode: chain.None},
		`{"shares": [0, 1], "field": "centred", "centre": [0, 1, 1]}`:                  {Shares: []float64{0, 1}, Field: chain.Centred, CentreMode: chain.Given, Centre: [3]float64{0, 1, 1}},
		`{"twist": "own", "field": "least_roll", "centre": "auto", "range": {"abduction_deg": [-30, 45], "flexion_deg": [0, 120]}, "down": [0, -1, 0], "forward": [0, 0, 1], "out": [1, 0, 0]}`: {
			Field: chain.LeastRoll, Range: RangeLimits, FlexionDeg: [2]float64{0, 120}, AbductionDeg: [2]float64{-30, 45}, Down: down, Forward: ahead, Out: left,
		},
		`{"range": "hip"}`:      {Range: RangeHip},
		`{"range": "shoulder"}`: {Range: RangeShoulder},
		`{"range": "wrist"}`:    {Range: RangeWrist},
		`{"anchor_rest": [0, 0, 0, 2], "joint_rest": [1, 0, 0, 0], "tip_rest": [0, 1, 0, 0]}`: {
			AnchorRest: [4]float64{0, 0, 0, 2}, JointRest: [4]float64{1, 0, 0, 0}, TipRest: [4]float64{0, 1, 0, 0},
		},
	} {
		got, err := ParseSpec([]byte(text))
		require.NoError(t, err, text)
		require.Equal(t, want, got, text)
	}
}

// Every field says what is wrong with it, and so does what is no field.
func TestParseSpecErrors(t *testing.T) {
	for text, want := range map[string]string{
		``:                                       "the specification ends too early, expected a JSON object",
		`{"axis": [1`:                            "the specification ends too early",
		`[1]`:                                    "the specification is [1], expected a JSON object",
		`null`:                                   "the specification is null",
		`{"axis": [1, 2, 3]} x`:                  "the specification goes on after its end at byte",
		`{"axis": [1, 2, 3]}{}`:                  "the specification goes on after its end",
		`{"axis" [1]}`:                           "the specification is malformed JSON near byte",
		`{"axis": [1, 2, 3], "bone": 1}`:         `the specification has an unknown key "bone", expected one of axis, segments`,
		`{"Axis": [1, 2, 3]}`:                    `unknown key "Axis"`,
		`{"twist": "own", "twist": "own"}`:       "the specification has twist a second time, expected each key once",
		`{"axis": [1, 2]}`:                       "axis is [1, 2], expected [x, y, z], not all 0",
		`{"axis": [0, 0, -0]}`:                   "axis is [0, 0, -0], expected [x, y, z], not all 0",
		`{"axis": [1, null, 0]}`:                 "axis is [1, null, 0], expected",
		`{"axis": [1e999, 0, 0]}`:                "axis is [1e999, 0, 0], expected",
		`{"axis": null}`:                         "axis is null, expected",
		`{"segments": 1}`:                        "segments is 1, expected a whole number from 2 to 32",
		`{"segments": 2.5}`:                      "segments is 2.5",
		`{"segments": null}`:                     "segments is null",
		`{"segments": "3"}`:                      `segments is "3"`,
		`{"segments": 1e99}`:                     "segments is 1e99",
		`{"twist": 1}`:                           `twist is 1, expected "own" or "tip"`,
		`{"ramp": "steep"}`:                      `ramp is "steep", expected "linear" or "smooth"`,
		`{"ramp": "linear", "shares": "linear"}`: "ramp is given and shares a word",
		`{"shares": [1]}`:                        "shares is [1], expected a list of 2 to 32 numbers from 0 to 1",
		`{"shares": "steep"}`:                    `shares is "steep", expected "linear" or "smooth"`,
		`{"tip_shares": [0, true]}`:              "tip_shares is [0, true], expected",
		`{"tip_shares": "linear"}`:               `tip_shares is "linear", expected a list`,
		`{"field": "any"}`:                       `field is "any", expected "shortest" or "centred" or "least_roll" or "balanced"`,
		`{"centre": "given"}`:                    `centre is "given", expected "auto" or "none"`,
		`{"centre": [0, 0, 0]}`:                  `centre is [0, 0, 0], expected "auto", "none" or [x, y, z], not all 0`,
		`{"range": "knee"}`:                      `range is "knee", expected`,
		`{"range": 7}`:                           `range is 7, expected "none", "hip", "shoulder", "wrist" or limits {"flexion_deg": [least, greatest], "abduction_deg": [least, greatest]}`,
		`{"range": "limits"}`:                    `range is "limits", expected "none", "hip", "shoulder", "wrist" or limits {"flexion_deg"`,
		`{"range": {"flexion_deg": [0, 1]}}`:     "range has no abduction_deg, expected [least, greatest] in degrees",
		`{"range": {"flexion": [0, 1]}}`:         `range has an unknown key "flexion"`,
		`{"range": {"flexion_deg": [0], "abduction_deg": [0, 1]}}`: "flexion_deg is [0], expected [least, greatest]",
		`{"down": [0, 0, 0]}`:                              "down is [0, 0, 0]",
		`{"forward": {}}`:                                  "forward is {}",
		`{"out": "x"}`:                                     `out is "x"`,
		`{"anchor_rest": [0, 0, 0, 0]}`:                    "anchor_rest is [0, 0, 0, 0], expected [x, y, z, w], not all 0",
		`{"joint_rest": [0, 0, 1]}`:                        "joint_rest is [0, 0, 1], expected",
		`{"tip_rest": 1}`:                                  "tip_rest is 1, expected",
		`{"axis": "` + strings.Repeat("long ", 100) + `"}`: "long…, expected [x, y, z], not all 0",
	} {
		s, err := ParseSpec([]byte(text))
		require.ErrorContains(t, err, want, text)
		require.Equal(t, BadSpec, StatusOfError(err), text)
		require.Equal(t, Spec{}, s)
		require.Less(t, len(err.Error()), 300)
	}
}

func FuzzParseSpec(f *testing.F) {
	for _, text := range []string{
		`{"axis": [1, 2, -3], "segments": 4, "twist": "tip", "ramp": "smooth", "tip_shares": [0, 0.25, 0.5, 1]}`,
		`{"range": "hip", "down": [0, -1, 0], "forward": [0, 0, 1], "out": [1, 0, 0], "joint_rest": [0, 0, 0, 1]}`,
		`{"shares": [0, 1], "centre": [1, 1, 0], "field": "centred", "range": {"abduction_deg": [-30, 45], "flexion_deg": [0, 120]}}`,
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := ParseSpec(text)
		if err != nil {
			requireMade(t, 0, err)
			return
		}
		h, err := New(s)
		requireMade(t, h, err)
	})
}
