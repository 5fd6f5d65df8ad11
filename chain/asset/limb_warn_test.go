package asset_test

import (
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/stretchr/testify/require"
)

// warned splits a wren's limb, as a limb file has it, and returns the warnings.
func warned(t *testing.T, limb string) (asset.Report, []string) {
	limbs, err := asset.ParseLimbs("limbs.yaml", []byte("version: 1\nlimbs:\n  - "+limb+"\n"))
	require.NoError(t, err)
	_, report, err := asset.Split(wrenFile(t), asset.Options{AsAsked: true, Limbs: limbs.Limbs})
	require.NoError(t, err)
	return report, report.Warnings
}

// What may be meant, and seldom is, is a warning at its place in the file.
func TestOddLimbsAreWarnedOf(t *testing.T) {
	if testing.Short() {
		t.Skip("nothing in it runs beside another")
	}
	for limb, want := range map[string]string{
		"{joint: thigh_l, end: shin_l, shares: [1, 0.5, 0]}":            `limbs.yaml:3:43: limb "thigh_l": shares fall from 1 to 0.5 at segment 2, expected`,
		"{joint: thigh_l, end: shin_l, shares: [0, 1, 0.5]}":            `limbs.yaml:3:43: limb "thigh_l": shares fall from 1 to 0.5 at segment 3, expected`,
		"{joint: thigh_l, end: shin_l, shares: [0.5, 0.5]}":             `limbs.yaml:3:43: limb "thigh_l": shares are 0.5 all along, so that no segment turns against another`,
		"{joint: thigh_l, end: foot_l}":                                 `limbs.yaml:3:27: limb "thigh_l": end is "foot_l", and "shin_l" between bends by up to `,
		"{joint: thigh_l, end: shin_l, stretch: hand_r, range: none}":   ``, // clips move the hand
		"{joint: thigh_l, end: shin_l, stretch: end}":                   `limbs.yaml:3:44: limb "thigh_l": no clip stretches it: none changes the distance from "thigh_l" to "shin_l"`,
		"{joint: thigh_l, end: shin_l, stretch: {by: thigh_r}}":         `limbs.yaml:3:49: limb "thigh_l": no clip stretches it: none changes the distance from "thigh_l" to "thigh_r"`,
		"{joint: thigh_l, end: shin_l, shares: [0, 0, 1]}":              ``,
		"{joint: forearm_l, end: hand_l, twist: tip, tip: hand_l}":      ``,
		"{joint: thigh_l, end: [0, -0.4, 0], segments: 2, range: none}": ``,
	} {
		_, warnings := warned(t, limb)
		if want == "" {
			require.Empty(t, warnings, limb)
			continue
		}
		require.Len(t, warnings, 1, limb)
		require.Contains(t, warnings[0], want)
	}
}

// The report says which field and which range each limb got.
func TestReportNamesFieldAndRange(t *testing.T) {
	if testing.Short() {
		t.Skip("nothing in it runs beside another")
	}
	_, report, err := asset.Split(wrenFile(t), asset.Options{AsAsked: true})
	require.NoError(t, err)
	got := map[string][2]string{}
	for _, l := range report.Limbs {
		got[l.Name] = [2]string{l.Field, l.Range}
	}
	require.Equal(t, [2]string{asset.FieldBalanced, asset.RangeHip}, got["left thigh"])
	require.Equal(t, [2]string{asset.FieldBalanced, asset.RangeShoulder}, got["right upper arm"])
	require.Equal(t, [2]string{asset.FieldShortest, asset.RangeNone}, got["left forearm"])
	for limb, want := range map[string][2]string{
		"{joint: thigh_l, end: shin_l}":                                                              {asset.FieldBalanced, asset.RangeHip},
		"{joint: thigh_l, end: shin_l, centre: none}":                                                {asset.FieldShortest, asset.RangeHip},
		"{joint: thigh_l, end: shin_l, range: none}":                                                 {asset.FieldShortest, asset.RangeNone},
		"{joint: thigh_l, end: shin_l, field: centred}":                                              {asset.FieldCentred, asset.RangeHip},
		"{joint: thigh_l, end: shin_l, centre: [0, -1, 1]}":                                          {asset.FieldCentred, asset.RangeHip},
		"{joint: shin_l, end: foot_l}":                                                               {asset.FieldShortest, asset.RangeNone},
		"{joint: thigh_l, end: shin_l, range: {flexion_deg: [-20, 95.5], abduction_deg: [-30, 45]}}": {asset.FieldBalanced, "{flexion_deg: [-20, 95.5], abduction_deg: [-30, 45]}"},
	} {
		report, _ := warned(t, limb)
		require.Equal(t, want, [2]string{report.Limbs[0].Field, report.Limbs[0].Range}, limb)
	}
	for i := 1; i < len(report.Excursions); i++ {
		require.GreaterOrEqual(t, report.Excursions[i-1].BeyondDeg, report.Excursions[i].BeyondDeg)
	}
}
