package asset

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCutSide(t *testing.T) {
	for name, want := range map[string][2]string{
		"UpperLeg.L":         {"UpperLeg", ".L"},
		"UpperLeg.L.001":     {"UpperLeg", ".L.001"},
		"UpperLeg_R2":        {"UpperLeg", "_R2"},
		"thigh_l":            {"thigh", "_l"},
		"Arm-Right":          {"Arm", "-Right"},
		"upper arm left":     {"upper arm", " left"},
		"Bein_links":         {"Bein", "_links"},
		"CUISSE_GAUCHE":      {"CUISSE", "_GAUCHE"},
		"腕_左":                {"腕", "_左"},
		"arm._l":             {"arm", "._l"},
		"leg_l_01_015":       {"leg_l_01_015", ""},
		"LeftLeg":            {"LeftLeg", ""},
		"LegL":               {"LegL", ""},
		"leg_upper":          {"leg_upper", ""},
		"leg_left_thigh":     {"leg_left_thigh", ""},
		"thigh":              {"thigh", ""},
		".L":                 {".L", ""},
		"_l":                 {"_l", ""},
		"":                   {"", ""},
		"leg.l ":             {"leg.l ", ""},
		"leg_right_twist_01": {"leg_right_twist_01", ""},
	} {
		stem, side := cutSide(name)
		require.Equal(t, want, [2]string{stem, side}, name)
	}
}

func TestSegmentName(t *testing.T) {
	require.Equal(t, "UpperLeg_segment1.L", segmentName(DefaultNames, "UpperLeg.L", 1))
	require.Equal(t, "X_segment12.L.001", segmentName(DefaultNames, "X.L.001", 12))
	require.Equal(t, "thigh_segment2", segmentName(DefaultNames, "thigh", 2))
	require.Equal(t, "UpperLeg.L 3", segmentName("{joint} {n}", "UpperLeg.L", 3), "a template without a side has the whole name")
	require.Equal(t, ".L3 UpperLeg", segmentName("{side}{n} {joint}", "UpperLeg.L", 3))
}

// Nothing of a name is lost, and names that differ make names that differ.
func TestSidesAreCutWhole(t *testing.T) {
	name := rapid.StringMatching(`(arm|leg|L|[._\- ]){1,3}([._\- ](l|R|left|01))?([._\- ]?[0-9]{1,3})?`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := name.Draw(t, "a"), name.Draw(t, "b")
		stem, side := cutSide(a)
		require.Equal(t, a, stem+side)
		if a != b {
			require.NotEqual(t, segmentName(DefaultNames, a, 1), segmentName(DefaultNames, b, 1))
		}
	})
}

// A character that was split is known by the names that are the default, that
// once were, and that are asked for.
func TestSplitBefore(t *testing.T) {
	for _, names := range []string{DefaultNames, formerNames, "{joint} {n}"} {
		f := leg(t, []any{1, 1, 1}, []float64{0}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0}})
		f.Doc.Nodes[2].Name = "thigh_l"
		f.Doc.Nodes[3].Name = segmentName(names, "thigh_l", 1)
		err := f.checkUnsplit("{joint} {n}")
		require.ErrorContains(t, err, "the character has been split before", names)
		require.True(t, strings.Contains(err.Error(), `stands below "thigh_l"`), err)
	}
}
