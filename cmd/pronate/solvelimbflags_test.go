package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Flags that do not go together, and names that nothing has, are usage errors.
func TestSolveLimbUsage(t *testing.T) {
	limbs, character := asFile(t, "limbs.yaml", limbsOfSolve), wren(t)
	for _, c := range []struct{ args, want string }{
		{"--limb x", "--limb x: expected --limbs or --character beside it, the file that has the limb"},
		{"--limbs LIMBS --limb left_foot", "--limb left_foot: LIMBS has no such limb, expected one of left thigh, left shin, forearm_l"},
		{"--character WREN --limb head", "--limb head: WREN has no such limb, expected one of left thigh, right thigh, left upper arm, right upper arm, left forearm, right forearm"},
		{"--limbs LIMBS", "LIMBS has 3 limbs, expected --limb and one of left thigh, left shin, forearm_l"},
		{"--character WREN", "WREN has 6 limbs, expected --limb and one of"},
		{"--limbs LIMBS --limb shin_l --shares 0,1", "--shares: the limb says that, expected none beside --limb, --limbs or --character"},
		{"--limbs LIMBS --limb shin_l --centre 0,1,0", "--centre: the limb says that"},
		{"--limbs LIMBS --limb forearm_l --tip-shares 0,1", "--tip-shares: the limb says that"},
		{"--limbs LIMBS --limb shin_l --axis 0,1", "axis has 2 numbers, expected [x, y, z]"},
		{"--limbs LIMBS --limb shin_l --axis 0,0,0", "axis is [0, 0, 0], expected a direction of non-zero length"},
		{"--character WREN --limb thigh_l --axis 0,1,0", "--axis: the character says that, expected none beside --character"},
		{"--limbs - --limb shin_l", "--limbs - or --character - takes standard input, expected FILE, which the rotations are read from"},
		{"--character - --limb shin_l -", "--limbs - or --character - takes standard input, expected FILE"},
		{"--character - --limbs - --limb shin_l LIMBS", "--limbs - and --character - both want standard input"},
		{"--limbs LIMBS --limb=", "--limb is empty, expected a name"},
		{"--character= --limbs LIMBS", "--character is empty, expected a name"},
		{"--limbs= --character WREN", "--limbs is empty, expected a name"},
	} {
		fill := strings.NewReplacer("LIMBS", limbs, "WREN", character)
		got := pronate(t, `{"rotation":[0,0,0,1]}`, append([]string{"solve"}, strings.Fields(fill.Replace(c.args))...)...)
		require.Equal(t, exitUsage, got.code, c.args)
		require.Contains(t, got.err, fill.Replace(c.want), c.args)
		require.Empty(t, got.out)
	}
}

// What is wrong with the files is told with file, place and limb.
func TestSolveLimbFails(t *testing.T) {
	character := wren(t)
	for _, c := range []struct{ limbs, want string }{
		{"version: 1\nlimbs: [{joint: a, end: b, sgements: 3}]", `LIMBS:2:28: `},
		{"version: 1\nlimbs: [{joint: shin_l, end: foot_l, field: least_roll}]", `LIMBS:2:45: limb "shin_l": field: is least_roll`},
		{"version: 1\nlimbs: [{joint: shin_l, end: foot_l, centre: [0, 1, 0]}]", `LIMBS:2:46: limb "shin_l": centre: points against the bone`},
	} {
		limbs := asFile(t, "limbs.yaml", c.limbs)
		got := pronate(t, "", "solve", "--limbs", limbs, "--axis=0,-1,0")
		require.Equal(t, exitFailed, got.code, c.limbs)
		require.Contains(t, got.err, "pronate: "+strings.ReplaceAll(c.want, "LIMBS", limbs))
	}
	limbs := asFile(t, "limbs.yaml", "version: 1\nlimbs: [{joint: thigh_x, end: shin_l}]")
	got := pronate(t, "", "solve", "--limbs", limbs, "--character", character)
	require.Equal(t, exitFailed, got.code)
	require.Contains(t, got.err, limbs+`:2:17: limb "thigh_x": joint: there is no node "thigh_x"`)
	got = pronate(t, "", "solve", "--limb", "x", "--character", limbs)
	require.Equal(t, exitFailed, got.code)
	require.Contains(t, got.err, limbs)
}

// What is set aside is said, and the lines are solved.
func TestSolveLimbWarns(t *testing.T) {
	limbs := asFile(t, "limbs.yaml", limbsOfSolve)
	got := pronate(t, `{"rotation":[0,0,0,1]}`, "solve", "--limbs", limbs, "--limb", "left thigh")
	require.Equal(t, exitDone, got.code)
	require.Regexp(t, `^pronate: warning: .*limbs\.yaml: limb "left thigh": at rest the bone points 60 degrees out of .*; --axis says where it points\n$`, got.err)
	require.Len(t, answer(t, got.out).Segments, 4)

	falling := asFile(t, "falling.yaml", "version: 1\nlimbs: [{joint: thigh_l, end: shin_l, shares: [0, 1, 0.5]}]")
	got = pronate(t, "", "solve", "--limbs", falling, "--character", wren(t))
	require.Equal(t, exitDone, got.code)
	require.Regexp(t, `^pronate: warning: .*falling\.yaml:2:47: limb "thigh_l": shares fall from 1 to 0\.5 .*\n$`, got.err)
}

// A line must not say what the limb says, nor leave out what it needs.
func TestSolveLimbBadLines(t *testing.T) {
	limbs, character := asFile(t, "limbs.yaml", limbsOfSolve), wren(t)
	in := strings.Join([]string{
		`{"rotation":[0,0,0,1],"axis":[0,1,0]}`,
		`{"rotation":[0,0,0,1],"shares":[0,1]}`,
		`{"rotation":[0,0,0,1],"centre":[0,1,0]}`,
		`{"rotation":[0,0,0,1],"tip_shares":[0,1],"tip":[0,0,0,1]}`,
		`{"rotation":[0,0,0,1],"tip":[0,0,0,1]}`,
		`{"rotation":[0,0,0,1]}`,
	}, "\n")
	const axisAlone = "axis: --axis says it for all lines of a limb, expected none"
	for _, c := range []struct {
		args []string
		want []string // the last two
	}{
		{[]string{"--limbs", limbs, "--limb", "thigh_l", "--axis=0,-1,0"}, []string{axisAlone, `tip: limb "left thigh" ramps its own twist, expected none`, ""}},
		{[]string{"--limbs", limbs, "--limb", "forearm_l"}, []string{axisAlone, "", `tip is missing, expected the rotation of hand_l, whose twist limb "forearm_l" ramps`}},
		{[]string{"--character", character, "--limb", "left forearm"}, []string{
			"axis: the character says it, expected none", "", `tip is missing, expected the rotation of hand_l, whose twist limb "left forearm" ramps`,
		}},
	} {
		got := pronate(t, in, append([]string{"solve"}, c.args...)...)
		require.Equal(t, exitFailed, got.code)
		require.Equal(t, 1, strings.Count(got.out, "\n"))
		messages := map[int]string{}
		for _, text := range strings.Split(strings.TrimSpace(got.err), "\n") {
			var e struct {
				Line  int
				Error string
			}
			require.NoError(t, json.Unmarshal([]byte(text), &e), text)
			messages[e.Line] = e.Error
		}
		for line, want := range []string{
			c.want[0], "shares: the limb says them, expected none", "centre: the limb says it, expected none",
			"tip_shares: the limb says them, expected none", c.want[1], c.want[2],
		} {
			require.Equal(t, want, messages[line+1], "line %d", line+1)
		}
	}
}

// Columns of a tip are there where the limb needs them, and only there.
func TestSolveLimbColumns(t *testing.T) {
	limbs := asFile(t, "limbs.yaml", limbsOfSolve)
	const own = "rotation_x,rotation_y,rotation_z,rotation_w"
	for _, c := range []struct{ limb, in, want string }{
		{"left thigh", own + ",tip_x,tip_y,tip_z,tip_w\n", `line 1: tip_x, tip_y, tip_z, tip_w: limb "left thigh" ramps its own twist, expected none of these columns`},
		{"forearm_l", own + "\n", `line 1: expected the columns tip_x, tip_y, tip_z, tip_w, the rotation of hand_l, whose twist limb "forearm_l" ramps, found ` + own[:10]},
	} {
		got := pronate(t, c.in, "solve", "--csv", "--axis=0,-1,0", "--limbs", limbs, "--limb", c.limb)
		require.Equal(t, exitFailed, got.code)
		require.Contains(t, got.err, c.want)
	}
	got := pronate(t, "axis,"+own+"\nx,0,0,0,1\n", "solve", "--csv", "--axis=0,-1,0", "--limbs", limbs, "--limb", "left thigh")
	require.Equal(t, exitDone, got.code, got.err)
	require.Contains(t, got.out, "\nx,0,", "other columns are carried through")
}
