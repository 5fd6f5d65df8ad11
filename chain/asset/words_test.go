package asset

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSplitName(t *testing.T) {
	for name, want := range map[string]string{
		"leftUpperArm":     "left upper arm",
		"LArm":             "l arm",
		"ArmL":             "arm l",
		"FRPawL":           "fr paw l",
		"UPPER_ARM-L(1)":   "upper arm l",
		"thigh-l":          "thigh l",
		"b_LeftLeg01_015":  "b left leg",
		"x:y|z Bein":       "x y z bein",
		"Fuß":              "fuss",
		"e\u0301paule":     "epaule",
		"AVANT-BRAS":       "avant bras",
		"左足Ａ":              "左足 a",
		"左ひじ1":             "左ひじ",
		"":                 "",
		"123":              "",
		"\xff\xfeleg\x00r": "leg r",
	} {
		require.Equal(t, want, strings.Join(splitName(name), " "), name)
	}
}

func TestRoleOf(t *testing.T) {
	for name, want := range map[string]struct {
		role    role
		side    int
		foreleg bool
	}{
		"LeftLegTop":            {thigh, 1, false},
		"LeftLeg":               {someLeg, 1, false},
		"lowerarm_r":            {forearm, -1, false},
		"foreArm R":             {forearm, -1, false},
		"thighr":                {thigh, -1, false},
		"leftthighbone":         {thigh, 1, false},
		"rightcalf":             {shin, -1, false},
		"lhand":                 {hand, 1, false},
		"Handgelenk_links":      {hand, 1, false},
		"hip_l":                 {hip, 1, false},
		"hips":                  {unknownRole, 0, false},
		"Hip":                   {unknownRole, 0, false},
		"Spine":                 {unknownRole, 0, false},
		"leftToRight":           {unknownRole, 0, false},
		"LeftHandIndex1":        {passedOver, 1, false},
		"forearm_twist_l":       {passedOver, 1, false},
		"thigh_segment1_l":      {passedOver, 1, false},
		"toe_l":                 {passedOver, 1, false},
		"armor":                 {unknownRole, 0, false},
		"harm":                  {unknownRole, 0, false},
		"charm":                 {unknownRole, 0, false},
		"clip":                  {unknownRole, 0, false},
		"legend":                {passedOver, 0, false}, // leg end: of no use either way
		"frontLeg_upper_L":      {upperArm, 1, false},
		"fore_leg R":            {someArm, -1, true},
		"front right lower leg": {forearm, -1, true},
		"forepaw_l":             {hand, 1, true},
		"hind_paw_l":            {paw, 1, false},
		"back leg l":            {someLeg, 1, false},
		"avant-bras_gauche":     {forearm, 1, false},
		"右腕ひねり":                 {passedOver, -1, false},
		"左足首":                   {foot, 1, false},
		"左手首":                   {hand, 1, false},
		"右ひざ":                   {shin, -1, false},
		"hidari_hiza":           {shin, 1, false},
	} {
		if name == "frontLeg_upper_L" {
			want.foreleg = true
		}
		m := meaningOf(splitName(name))
		r, foreleg := roleOf(m)
		require.Equal(t, want.role, r, name)
		require.Equal(t, want.foreleg, foreleg, name)
		require.Equal(t, want.side, sideOf(m), name)
	}
}

func TestIsThighAndUpperArm(t *testing.T) {
	for _, test := range []struct {
		name, joint     string
		thigh, upperArm bool
	}{
		{"left thigh", "b_LeftLeg01", true, false},
		{"", "thigh_l", true, false},
		{"a", "hip_l", true, false},
		{"x", "Hips", false, false},
		{"left upper arm", "L_bone7", false, true},
		{"b", "shoulder_r", false, true},
		{"left upper foreleg", "front_leg_upper_L", false, true},
		{"right forearm", "upperarm_r", false, false}, // the limb's own name goes first
		{"left lower foreleg", "x", false, false},
		{"", "shin_l", false, false},
	} {
		spec := LimbSpec{Name: test.name, Joint: test.joint}
		require.Equal(t, test.thigh, isThigh(spec), test)
		require.Equal(t, test.upperArm, isUpperArm(spec), test)
	}
}

// Every word of the vocabulary is found as splitName leaves it.
func TestVocabularyIsPlain(t *testing.T) {
	for _, entry := range vocabulary {
		for _, word := range strings.Fields(entry.words) {
			require.Equal(t, []string{word}, splitName(word))
			require.Equal(t, entry.says, lookUp(word)&entry.says)
		}
	}
}

// Names of any kind are split without harm, and marking a side by another sign
// changes nothing.
func namesProperty(t *rapid.T) {
	name := rapid.String().Draw(t, "name")
	meaningOf(splitName(name))
	part := rapid.SampledFrom([]string{"thigh", "upperarm", "forearm", "hand", "foot", "knie", "muslo"}).Draw(t, "part")
	sign := rapid.SampledFrom([]string{"_", ".", "-", " ", ":", "|", "_01_"}).Draw(t, "sign")
	side := rapid.SampledFrom([]string{"l", "L", "left", "Left", "LEFT", "links"}).Draw(t, "side")
	want := lookUp(part) | saysLeft
	require.Equal(t, want, meaningOf(splitName(part+sign+side)))
	require.Equal(t, want, meaningOf(splitName(side+sign+part)))
}

func TestNames(t *testing.T) { rapid.Check(t, namesProperty) }

func FuzzNames(f *testing.F) { f.Fuzz(rapid.MakeFuzz(namesProperty)) }
