package asset

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const body = `
bekken
	%legs%
	trunk @ %trunk%
		head @ 0 0.3 0
		%arms%`

// figure is a body with two legs and two arms, each of bones that point along a
// direction on the left and its mirror image on the right.
func figure(trunk, leg, arm, legName, armName string) string {
	limb := func(name, at, lower, end, along, indent string) string {
		var b strings.Builder
		for _, side := range []struct{ name, mirror string }{{"L", ""}, {"R", "-"}} {
			mirrored := strings.Replace(along, "X", side.mirror+"1", 1)
			b.WriteString(indent + name + " " + side.name + " @ " + side.mirror + at + "\n")
			b.WriteString(indent + "\t" + lower + " " + side.name + " @ " + mirrored + "\n")
			b.WriteString(indent + "\t\t" + end + " " + side.name + " @ " + mirrored + "\n")
		}
		return b.String()
	}
	legs := limb(legName+" upper", "0.1 0 0", legName+" lower", "voet", leg, "\t")
	arms := limb(armName+" upper", "0.2 0 0", armName+" lower", "pols", arm, "\t\t")
	if armName == "" {
		arms = ""
	}
	return strings.NewReplacer("\t%legs%\n", legs, "\t\t%arms%", arms, "%trunk%", trunk).Replace(body)
}

func TestStandsLikePerson(t *testing.T) {
	const upright, level = "0 0.6 0", "0 0.1 1"
	for what, test := range map[string]struct {
		skeleton string
		want     bool
	}{
		"arms hang":           {figure(upright, "0 -1 0", "0 -1 0", "leg", "arm"), true},
		"arms at 45 degrees":  {figure(upright, "0 -1 0", "X -1 0", "leg", "arm"), true},
		"arms straight out":   {figure(upright, "0 -1 0", "X 0 0", "leg", "arm"), true},
		"legs apart":          {figure(upright, "X -1 0", "X 0 0", "leg", "arm"), true},
		"no arms but a head":  {figure(upright, "0 -1 0", "", "leg", ""), true},
		"legs out sideways":   {figure(upright, "X 0 0", "X 0 0", "leg", "arm"), false},
		"sits":                {figure(upright, "0 0 1", "0 -1 0", "leg", "arm"), false},
		"the trunk is level":  {figure(level, "0 -1 0", "0 -1 0", "leg", "arm"), false},
		"level, without arms": {figure("0 -0.3 1", "0 -1 0", "", "leg", ""), false},
		"front legs":          {figure(upright, "0 -1 0", "0 -1 0", "leg", "front leg"), false},
		"upside down":         {figure("0 -0.6 0", "0 -1 0", "0 -1 0", "leg", "arm"), false},
	} {
		t.Run(what, func(t *testing.T) {
			limbs, err := Detect(decodeSkeleton(t, test.skeleton))
			require.NoError(t, err)
			require.NotEmpty(t, limbs.Limbs)
			for _, l := range limbs.Limbs {
				want := RangeNone // the file has no clips
				switch {
				case l.Twist == TwistTip:
					want = ""
				case test.want && strings.Contains(l.Name, "thigh"):
					want = RangeHip
				case test.want:
					want = RangeShoulder
				}
				require.Equal(t, want, l.Range.Name, l.Name)
			}
		})
	}
}

// One leg is no stand.
func TestOneLegDoesNotStand(t *testing.T) {
	limbs, err := Detect(decodeSkeleton(t, "pelvis\n\tthigh_l\n\t\tshin_l\n\t\t\tfoot_l\n\thead @ 0 1 0"))
	require.NoError(t, err)
	require.Equal(t, RangeNone, limbs.Limbs[0].Range.Name)
}
