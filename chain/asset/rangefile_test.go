package asset

import (
	"testing"

	"github.com/stretchr/testify/require"
)

const hipFile = "name: stiff hip\nflexion_deg: [-10, 90] # a comment\nabduction_deg: [-20.5, 30]\nrest_deg: [0, 10]\n"

func TestParseRange(t *testing.T) {
	got, err := ParseRange("range.yaml", []byte(hipFile))
	require.NoError(t, err)
	require.Equal(t, RangeFile{"stiff hip", Range{FlexionDeg: [2]float64{-10, 90}, AbductionDeg: [2]float64{-20.5, 30}}, [2]float64{0, 10}}, got)
	got, err = ParseRange("range.yaml", []byte(`{"flexion_deg": [0, 1], "abduction_deg": [0, 1]}`))
	require.NoError(t, err)
	require.Equal(t, RangeFile{Name: "range", Range: Range{FlexionDeg: [2]float64{0, 1}, AbductionDeg: [2]float64{0, 1}}}, got)
}

func TestParseRangeErrors(t *testing.T) {
	for file, message := range map[string]string{
		"":                      "1:1: is empty, expected flexion_deg and abduction_deg",
		"hip":                   "1:1: the text \"hip\", expected a range: flexion_deg and abduction_deg",
		"flexion_deg: [0, 1]\n": "1:1: the range has no abduction_deg, expected [least, greatest] in degrees, such as abduction_deg: [-30, 45]",
		"flexion: [0, 1]\n":     "1:1: unknown key \"flexion\", expected one of name, rest_deg, flexion_deg, abduction_deg; did you mean flexion_deg?",
		"flexion_deg: [0, 1]\nabduction_deg: [0, 95]\n":                     "2:16: range has abduction_deg [0, 95], expected the least before the greatest, within 90 degrees either way",
		"flexion_deg: [1, 0]\nabduction_deg: [0, 95]\n":                     "1:14: range has flexion_deg [1, 0], expected the least before the greatest, within 180 degrees either way",
		"flexion_deg: [0, 1]\nabduction_deg: [0, x]\n":                      "2:20: abduction_deg[1] is \"x\", expected a finite number",
		"flexion_deg: [0, 1]\nabduction_deg: [0, 1]\nrest_deg: 3\n":         "3:11: rest_deg is a number, expected [flexion, abduction] in degrees",
		"flexion_deg: [0, 1]\nabduction_deg: [0, 1]\nrest_deg: [0, 91]\n":   "3:11: rest_deg is [0, 91], expected flexion within [0, 1] and abduction within [0, 1]",
		"flexion_deg: [5, 9]\nabduction_deg: [0, 1]\nrest_deg: [4, 1]\n":    "3:11: rest_deg is [4, 1], expected flexion within [5, 9] and abduction within [0, 1]",
		"flexion_deg: [0, 1]\nabduction_deg: [0, 1]\nname: [a]\n":           "3:7: name is a list, expected a text",
		"flexion_deg: [0, 1]\nflexion_deg: [0, 1]\nabduction_deg: [0, 1]\n": "2:1: mapping key \"flexion_deg\" already defined at [1:1]",
	} {
		_, err := ParseRange("range.yaml", []byte(file))
		require.EqualError(t, err, "range.yaml:"+message)
	}
}

// FuzzRange reads anything: one line of error, or a range in its limits.
func FuzzRange(f *testing.F) {
	f.Add([]byte(hipFile))
	f.Add([]byte("flexion_deg: [0, 1]\nabduction_deg: [0, .inf]\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := ParseRange("range.yaml", data)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			return
		}
		require.NoError(t, got.Range.check())
		require.False(t, got.Range.isZero())
	})
}
