package asset

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const thighFile = `# a comment
version: 1
limbs:
  - name: left thigh
    joint: thigh_l     # the joint whose bone is split
    end: shin_l
    segments: 4
    twist: own
    shares: [0, 0.25, 0.5, 1]
    anchor: pelvis
    centre: auto
  - joint: forearm_l
    end: [0, 0.25, 0]
    twist: tip
    tip: hand_l
    centre: none
  - joint: upper_arm_l
    end: forearm_l
    centre: [1, 0, -1]
`

func TestParseLimbs(t *testing.T) {
	limbs, err := ParseLimbs("limbs.yaml", []byte(thighFile))
	require.NoError(t, err)
	require.EqualExportedValues(t, Limbs{Version: 1, Limbs: []LimbSpec{
		{
			Name: "left thigh", Joint: "thigh_l", End: End{Joint: "shin_l"}, Segments: 4, Twist: TwistOwn,
			Shares: Shares{List: []float64{0, 0.25, 0.5, 1}}, Anchor: "pelvis", Centre: Centre{Mode: CentreAuto},
		},
		{
			Name: "forearm_l", Joint: "forearm_l", End: End{Point: &[3]float64{0, 0.25, 0}},
			Twist: TwistTip, Tip: "hand_l", Shares: Shares{Ramp: SharesLinear}, Centre: Centre{Mode: CentreNone},
		},
		{
			Name: "upper_arm_l", Joint: "upper_arm_l", End: End{Joint: "forearm_l"},
			Twist: TwistOwn, Shares: Shares{Ramp: SharesLinear}, Centre: Centre{Direction: &[3]float64{1, 0, -1}},
		},
	}}, limbs)
}

// limbFile wraps the lines of one limb.
func limbFile(lines ...string) string {
	return "version: 1\nlimbs:\n  - joint: a\n    end: b\n    " + strings.Join(lines, "\n    ") + "\n"
}

var goodLimbFiles = map[string]string{
	"whole":                  thighFile,
	"least":                  limbFile(),
	"flow":                   `{version: 1, limbs: [{joint: a, end: b}]}`,
	"JSON":                   `{"version": 1, "limbs": [{"joint": "a", "end": [0, 1, 0], "segments": 2, "shares": [0, 1]}]}`,
	"whole float":            limbFile("segments: 4.0"),
	"most segments":          limbFile("segments: 32"),
	"auto segments":          limbFile("segments: auto"),
	"auto and a list":        limbFile("segments: auto", "shares: [0, 1]", "stretch: {shares: [0.5, 0.5]}"),
	"no limbs":               "version: 1\nlimbs: []\n",
	"range of clips":         limbFile("range: clips", "field: least_roll"),
	"directions":             limbFile("range: {flexion_deg: [0, 1], abduction_deg: [0, 1], down: [0, -2, 0], forward: [0.6, 0, 0.8], out: [0.8, 0, -0.6]}"),
	"directions in lines":    limbFile("range:", "  out: [1, 0, 0.004]", "  down: [0, -1, 0]", "  forward: [0, 0, 1]", "  flexion_deg: [0, 1]", "  abduction_deg: [0, 1]"),
	"smooth":                 limbFile("shares: smooth"),
	"list sets segments":     limbFile("shares: [0, 0.5, 1, 1]"),
	"no centre":              limbFile("centre: none"),
	"exclude":                limbFile(`exclude: {meshes: [Pouch, "#3"], materials: [leather], pieces: ["Body/0/12"]}`),
	"exclude and rigid":      limbFile("exclude:", "  meshes:", "    - knee pad", "rigid: {pieces: ['#1/0/0']}"),
	"named range":            limbFile("range: hip", "field: least_roll"),
	"limits":                 limbFile("range:", "  flexion_deg: [-180, 180]", "  abduction_deg: [-90, 90.0]"),
	"limits on a line":       limbFile("range: {abduction_deg: [0, 1], flexion_deg: [0, 1]}", "field: centred"),
	"centre and no range":    limbFile("range: none", "centre: [1, 0, 0]", "field: centred"),
	"plain":                  limbFile("field: shortest", "centre: none"),
	"stretch":                limbFile("stretch: end"),
	"stretch by a joint":     limbFile("stretch: '#3'"),
	"stretch by default":     limbFile("stretch: {}"),
	"whole stretch":          limbFile("stretch: {by: c, limits: [0.7, 1.5], shares: [0.25, 0.5, 0.25], exponent: 0}"),
	"stretch in lines":       limbFile("stretch:", "  exponent: 1"),
	"crease":                 limbFile("crease: {at: end, most_m: 0.02}"),
	"whole crease":           limbFile("crease:", "  at: root", "  most_m: 0.02", "  onset_deg: 0", "  full_deg: 180"),
	"quoted index":           "version: 1\nlimbs:\n  - joint: \"#3\"\n    end: '#4'\n",
	"number in quotes twice": limbFile(`name: "1e3"`),
	"number in quotes":       limbFile(`name: "12"`),
	"tip":                    limbFile("twist: tip", "tip: c"),
	"nothing at a tip":       limbFile("twist: tip", "tip: c", "centre: none", "range: none"),
	"stretch by yes":         limbFile("stretch: 'yes'"),
	"document marks":         "---\n" + limbFile() + "...\n",
	"Windows lines":          strings.ReplaceAll(thighFile, "\n", "\r\n"),
	"block text":             limbFile("name: >-", "  left", "  thigh"),
	"ruler":                  "# " + strings.Repeat("-", 60) + "\n" + limbFile(),
	"exponents":              "version: 1\nlimbs:\n  - joint: a\n    end: [1e-7, -2.5E+3, .5]\n",
}

// badLimbFiles: what is wrong and the message, without the file's name.
var badLimbFiles = map[string]struct{ file, message string }{
	"empty":              {"", `1:1: is empty, expected "version: 1" and "limbs:"`},
	"only a comment":     {"# nothing\n", `1:1: is empty, expected "version: 1" and "limbs:"`},
	"a list":             {"- a\n", `1:1: a list, expected "version: 1" and "limbs:"`},
	"a text":             {"limbs", `1:1: the text "limbs", expected "version: 1" and "limbs:"`},
	"no version":         {"limbs:\n  - joint: a\n    end: b\n", `1:1: has no version, expected "version: 1"`},
	"later version":      {"version: 2\nlimbs: []\n", `1:10: version is 2, expected 1`},
	"version in quotes":  {"version: \"1\"\nlimbs: []\n", `1:10: version is "1", expected 1`},
	"no limbs":           {"version: 1\n", `1:1: has no limbs, expected a list under "limbs:"`},
	"nothing in limbs":   {"version: 1\nlimbs:\n", `2:8: limbs is nothing, expected a list, which is [] for no limbs`},
	"limbs none":         {"version: 1\nlimbs: none\n", `2:8: limbs is the text "none", expected a list, which is [] for no limbs`},
	"unknown top key":    {"version: 1\nlimb: []\n", `2:1: unknown key "limb", expected one of version, resolved, limbs`},
	"limb a text":        {"version: 1\nlimbs:\n  - thigh\n", `3:5: the text "thigh", expected a limb: joint, end, …`},
	"unknown key":        {limbFile("segment: 3"), `5:5: limb "a": unknown key "segment", expected one of name, joint, end, segments, twist, tip, shares, anchor, centre, range, field`},
	"field word":         {limbFile("field: auto"), `5:12: limb "a": field is "auto", expected shortest, centred, least_roll or balanced`},
	"plain and a centre": {limbFile("field: shortest", "centre: [1, 0, 0]"), `5:12: limb "a": field is shortest, which goes by no centre, and centre is a direction; expected centred, least_roll or balanced`},
	"best, no centre":    {limbFile("field: least_roll", "centre: none"), `5:12: limb "a": field is least_roll and centre none, expected centre: auto or a direction`},
	"best, no range":     {limbFile("field: least_roll", "range: none", "centre: [1, 0, 0]"), `5:12: limb "a": field is least_roll and range none, expected a range`},
	"range word":         {limbFile("range: knee"), `5:12: limb "a": range is "knee", expected hip, shoulder, wrist, clips, none or limits such as {flexion_deg: [-30, 120], abduction_deg: [-30, 45]}`},
	"range a list":       {limbFile("range: [0, 1]"), `5:12: limb "a": range is a list, expected hip, shoulder, wrist, clips, none or limits such as {flexion_deg: [-30, 120], abduction_deg: [-30, 45]}`},
	"range key":          {limbFile("range: {flexion: [0, 1]}"), `5:13: limb "a": unknown key "flexion", expected one of flexion_deg, abduction_deg, down, forward, out`},
	"half a range":       {limbFile("range: {flexion_deg: [0, 1]}"), `5:12: limb "a": the range has no abduction_deg, expected [least, greatest] in degrees, such as abduction_deg: [-30, 45]`},
	"limit a number":     {limbFile("range: {flexion_deg: 1, abduction_deg: [0, 1]}"), `5:26: limb "a": flexion_deg is a number, expected [least, greatest] in degrees`},
	"three limits":       {limbFile("range: {flexion_deg: [0, 1, 2], abduction_deg: [0, 1]}"), `5:26: limb "a": flexion_deg has 3 numbers, expected 2`},
	"limits turned":      {limbFile("range: {flexion_deg: [1, 0], abduction_deg: [0, 1]}"), `5:12: limb "a": range has flexion_deg [1, 0], expected the least before the greatest, within 180 degrees either way`},
	"wide limits":        {limbFile("range: {flexion_deg: [0, 1], abduction_deg: [0, 91]}"), `5:12: limb "a": range has abduction_deg [0, 91], expected the least before the greatest, within 90 degrees either way`},
	"no extent":          {limbFile("range: {flexion_deg: [0, 0], abduction_deg: [0, 0]}"), `5:12: limb "a": range has no extent, expected the least before the greatest`},
	"half directions":    {limbFile("range: {flexion_deg: [0, 1], abduction_deg: [0, 1], out: [1, 0, 0], down: [0, 1, 0]}"), `5:12: limb "a": the range has out and no forward, expected all of down, forward and out, or none`},
	"only directions":    {limbFile("range: {down: [0, -1, 0], forward: [0, 0, 1], out: [1, 0, 0]}"), `5:12: limb "a": the range has no flexion_deg, expected [least, greatest] in degrees`},
	"direction a word":   {limbFile("range:", "  flexion_deg: [0, 1]", "  abduction_deg: [0, 1]", "  down: Y", "  forward: [0, 0, 1]", "  out: [1, 0, 0]"), `8:13: limb "a": down is the text "Y", expected a direction [x, y, z]`},
	"zero direction":     {limbFile("range:", "  flexion_deg: [0, 1]", "  abduction_deg: [0, 1]", "  down: [0, -1, 0]", "  forward: [0, 0, 0]", "  out: [1, 0, 0]"), `9:16: limb "a": forward is [0, 0, 0], expected three finite numbers, not all 0`},
	"infinite direction": {limbFile("range:", "  flexion_deg: [0, 1]", "  abduction_deg: [0, 1]", "  down: [0, -1, 0]", "  forward: [0, 0, .inf]", "  out: [1, 0, 0]"), `9:23: limb "a": forward[2] is .inf, expected a finite number`},
	"two numbers a way":  {limbFile("range:", "  flexion_deg: [0, 1]", "  abduction_deg: [0, 1]", "  down: [0, -1]", "  forward: [0, 0, 1]", "  out: [1, 0, 0]"), `8:13: limb "a": down has 2 numbers, expected 3`},
	"slanting direction": {limbFile("range:", "  flexion_deg: [0, 1]", "  abduction_deg: [0, 1]", "  down: [0, -1, 0]", "  forward: [0, 0, 1]", "  out: [1, 1, 0]"), `10:12: limb "a": out is 135 degrees from down, expected a right angle`},
	"clips at a tip":     {limbFile("twist: tip", "tip: c", "range: clips"), `7:12: limb "a": range has no effect where twist is tip, expected none`},
	"stretch a list":     {limbFile("stretch: [end]"), `5:14: limb "a": stretch is a list, expected end, a joint's name or a mapping of by, limits, shares, exponent`},
	"stretch a number":   {limbFile("stretch: 2"), `5:14: limb "a": stretch is 2, which YAML takes for a number, expected end, a joint's name or a mapping`},
	"stretch yes":        {limbFile("stretch: yes"), `5:14: limb "a": stretch is yes, expected end, a joint's name or a mapping of by, limits, shares, exponent`},
	"stretch true":       {limbFile("name: left thigh", "stretch: true"), `6:14: limb "left thigh": stretch is true, expected end, a joint's name or a mapping`},
	"wrist at a tip":     {limbFile("twist: tip", "tip: c", "range: wrist"), `7:12: limb "a": range has no effect where twist is tip, expected none`},
	"limits at a tip":    {limbFile("twist: tip", "tip: c", "range: {flexion_deg: [0, 1], abduction_deg: [0, 1]}"), `7:12: limb "a": range has no effect where twist is tip`},
	"field at a tip":     {limbFile("twist: tip", "tip: c", "field: shortest"), `7:12: limb "a": field has no effect where twist is tip`},
	"centre at a tip":    {limbFile("twist: tip", "tip: c", "centre: [1, 0, 0]"), `7:13: limb "a": centre has no effect where twist is tip`},
	"stretch key":        {limbFile("stretch: {to: end}"), `5:15: limb "a": unknown key "to", expected one of by, limits, shares, exponent`},
	"stretch by itself":  {limbFile("stretch: {exponent: 1, by: a}"), `5:32: limb "a": stretch by is "a", the limb's joint itself, expected another`},
	"stretch by empty":   {limbFile("stretch: {by: \"\"}"), `5:19: limb "a": stretch by is empty, expected end or a joint's name`},
	"no end to stretch":  {"version: 1\nlimbs:\n  - joint: a\n    end: [0, 1, 0]\n    stretch: end\n", `5:14: limb "a": stretch by is end, and the limb ends at a point, expected a joint's name`},
	"stretch limits":     {limbFile("stretch: {limits: [1.1, 2]}"), `5:23: limb "a": stretch limits is [1.1, 2], expected the least ratio, more than 0 and at most 1, and the greatest, 1 or more`},
	"stretch limits 0":   {limbFile("stretch: {limits: [0, 0]}"), `5:23: limb "a": stretch limits is [0, 0], expected the least ratio`},
	"stretch one limit":  {limbFile("stretch: {limits: 2}"), `5:23: limb "a": stretch limits is a number, expected [least, greatest]`},
	"stretch exponent":   {limbFile("stretch: {exponent: 1.5}"), `5:25: limb "a": stretch exponent is 1.5, expected 0 to 1`},
	"exponent a text":    {limbFile("stretch: {exponent: half}"), `5:25: limb "a": stretch exponent is "half", expected a finite number`},
	"stretch shares":     {limbFile("segments: 2", "stretch: {shares: [0.5, 1.5]}"), `6:29: limb "a": stretch shares has 1.5 at place 2, expected 0 to 1`},
	"stretch share sum":  {limbFile("segments: 2", "stretch: {shares: [0.5, 0.25]}"), `6:23: limb "a": stretch shares sums to 0.75, expected 1`},
	"stretch share word": {limbFile("stretch: {shares: equal}"), `5:23: limb "a": stretch shares is the text "equal", expected a list of numbers`},
	"stretch count":      {limbFile("stretch:", "  shares: [0.5, 0.5]"), `6:15: limb "a": stretch shares has 2 numbers, expected 3, one for each segment`},
	"crease a word":      {limbFile("crease: end"), `5:13: limb "a": crease is "end", expected a mapping of at, most_m, onset_deg, full_deg`},
	"crease key":         {limbFile("crease: {most: 1}"), `5:14: limb "a": unknown key "most", expected one of at, most_m, onset_deg, full_deg`},
	"crease nowhere":     {limbFile("crease: {most_m: 1}"), `5:13: limb "a": the crease has no at, expected end or root, such as at: end`},
	"crease of nothing":  {limbFile("crease: {at: end}"), `5:13: limb "a": the crease has no most_m, expected metres, such as most_m: 0.02`},
	"crease at":          {limbFile("crease: {at: tip, most_m: 1}"), `5:18: limb "a": crease at is "tip", expected end or root`},
	"crease at a point":  {"version: 1\nlimbs:\n  - joint: a\n    end: [0, 1, 0]\n    crease: {at: end, most_m: 1}\n", `5:18: limb "a": crease at is end, and the limb ends at a point, expected a limb that ends at a joint`},
	"crease most":        {limbFile("crease: {at: end, most_m: 0}"), `5:31: limb "a": crease most_m is 0, expected metres, more than 0`},
	"crease onset":       {limbFile("crease: {at: end, most_m: 1, onset_deg: -1}"), `5:45: limb "a": crease onset_deg is -1, expected 0 to 180`},
	"crease full":        {limbFile("crease: {at: end, most_m: 1, full_deg: 181}"), `5:44: limb "a": crease full_deg is 181, expected 0 to 180`},
	"crease no span":     {limbFile("crease: {at: end, most_m: 1, onset_deg: 0, full_deg: 0}"), `5:58: limb "a": crease full_deg is 0, expected more than onset_deg, 0`},
	"crease late":        {limbFile("crease: {at: end, most_m: 1, onset_deg: 150}"), `5:13: limb "a": crease full_deg is 140, expected more than onset_deg, 150`},
	"exclude a word":     {limbFile("exclude: pouch"), `5:14: limb "a": exclude is "pouch", expected a mapping of meshes, materials, pieces, each a list of names`},
	"exclude a list":     {limbFile("exclude: [pouch]"), `5:14: limb "a": exclude is a list, expected a mapping of meshes`},
	"exclude key":        {limbFile("exclude: {mesh: [a]}"), `5:15: limb "a": unknown key "mesh", expected one of meshes, materials, pieces; did you mean meshes?`},
	"exclude nothing":    {limbFile("exclude: {}"), `5:14: limb "a": exclude names nothing, expected names of meshes, materials or pieces`},
	"exclude one":        {limbFile("exclude: {meshes: pouch}"), `5:23: limb "a": exclude meshes is the text "pouch", expected a list of names`},
	"exclude none":       {limbFile("exclude: {meshes: []}"), `5:23: limb "a": exclude meshes is an empty list, expected a list of names`},
	"exclude a number":   {limbFile("exclude: {materials: [b, 3]}"), `5:30: limb "a": exclude materials is 3, which YAML takes for a number, expected a name, or "#" and an index: put it in quotes`},
	"exclude empty":      {limbFile("exclude: {pieces: [\"\"]}"), `5:24: limb "a": exclude pieces is empty, expected a name`},
	"rigid twice":        {limbFile("rigid: {pieces: [b/0/1, c, b/0/1]}"), `5:32: limb "a": rigid pieces has "b/0/1" a second time`},
	"no joint":           {"version: 1\nlimbs:\n  - end: b\n", `3:5: the limb has no joint, expected the joint whose bone is split, such as joint: thigh_l`},
	"no end":             {"version: 1\nlimbs:\n  - joint: a\n", `3:5: limb "a": the limb has no end, expected a joint below it or a point [x, y, z], such as end: shin_l`},
	"key twice":          {limbFile("end: c"), `5:5: mapping key "end" already defined at [4:5]`},
	"empty joint":        {"version: 1\nlimbs:\n  - joint: \"\"\n    end: b\n", `3:12: joint is empty, expected a text`},
	"comment for joint":  {"version: 1\nlimbs:\n  - joint: #3\n    end: b\n", `3:11: joint is nothing, expected a text`},
	"joint a number":     {"version: 1\nlimbs:\n  - joint: 12\n    end: b\n", `3:12: joint is 12, which YAML takes for a number, expected a text: put it in quotes`},
	"joint a list":       {"version: 1\nlimbs:\n  - joint: [a]\n    end: b\n", `3:12: joint is a list, expected a text`},
	"name an exponent":   {limbFile("name: 1e3"), `5:11: limb "a": name is 1e3, which YAML takes for a number, expected a text: put it in quotes`},
	"name is true":       {limbFile("name: true"), `5:11: limb "a": name is true, which YAML takes for true or false, expected a text: put it in quotes`},
	"two numbers":        {"version: 1\nlimbs:\n  - joint: a\n    end: [0, 1]\n", `4:10: limb "a": end has 2 numbers, expected 3`},
	"zero point":         {"version: 1\nlimbs:\n  - joint: a\n    end: [0, 0.0, 0]\n", `4:10: limb "a": end is [0, 0, 0], expected three finite numbers, not all 0`},
	"point of text":      {"version: 1\nlimbs:\n  - joint: a\n    end: [0, up, 0]\n", `4:14: limb "a": end[1] is "up", expected a finite number`},
	"infinite point":     {"version: 1\nlimbs:\n  - joint: a\n    end: [0, .inf, 0]\n", `4:14: limb "a": end[1] is .inf, expected a finite number`},
	"end is joint":       {"version: 1\nlimbs:\n  - joint: a\n    end: a\n", `4:10: limb "a": end is "a", the limb's joint itself, expected a joint below it`},
	"one segment":        {limbFile("segments: 1"), `5:15: limb "a": segments is 1, expected auto or a whole number from 2 to 32`},
	"no segments":        {limbFile("segments: 0"), `5:15: limb "a": segments is 0, expected auto or a whole number from 2 to 32`},
	"many segments":      {limbFile("segments: 33"), `5:15: limb "a": segments is 33, expected auto or a whole number from 2 to 32`},
	"half a segment":     {limbFile("segments: 2.5"), `5:15: limb "a": segments is 2.5, expected auto or a whole number from 2 to 32`},
	"huge segments":      {limbFile("segments: 1e300"), `5:15: limb "a": segments is 1e300, expected auto or a whole number from 2 to 32`},
	"segments a text":    {limbFile("segments: three"), `5:15: limb "a": segments is "three", expected auto or a whole number from 2 to 32`},
	"twist":              {limbFile("twist: hand"), `5:12: limb "a": twist is "hand", expected own or tip`},
	"tip missing":        {limbFile("twist: tip"), `5:12: limb "a": tip is missing, expected the joint whose twist is ramped: twist is tip`},
	"tip without twist":  {limbFile("tip: hand"), `5:10: limb "a": tip is "hand", expected none where twist is own; write "twist: tip" to ramp its twist`},
	"shares word":        {limbFile("shares: cubic"), `5:13: limb "a": shares is "cubic", expected linear, smooth or a list of numbers from 0 to 1`},
	"shares count":       {limbFile("segments: 3", "shares: [0, 1]"), `6:13: limb "a": shares has 2 numbers, expected 3, one for each segment`},
	"shares out of 0..1": {limbFile("shares: [0, 1.5]"), `5:17: limb "a": shares has 1.5 at place 2, expected 0 to 1`},
	"one share":          {limbFile("shares: [1]"), `5:13: limb "a": shares is a list of 1, expected 2 to 32 numbers, one for each segment`},
	"shares a mapping":   {limbFile("shares: {a: 1}"), `5:13: limb "a": shares is a mapping, expected linear, smooth or a list of numbers`},
	"shares nothing":     {limbFile("shares:"), `limb "a": shares is nothing, expected linear, smooth or a list of numbers`},
	"anchor is joint":    {limbFile("anchor: a"), `5:13: limb "a": anchor is "a", the limb's joint itself, expected another`},
	"centre word":        {limbFile("centre: middle"), `5:13: limb "a": centre is "middle", expected auto, none or a direction [x, y, z]`},
	"zero centre":        {limbFile("centre: [0, 0, 0]"), `5:13: limb "a": centre is [0, 0, 0], expected three finite numbers, not all 0`},
	"name twice":         {limbFile("name: x", "") + "  - {joint: c, end: d, name: x}\n", `7:30: name "x" is that of the limb in line 3, expected another`},
	"joint twice":        {limbFile("name: x", "") + "  - {joint: a, end: d, name: y}\n", `7:13: joint "a" is split by the limb in line 3, expected one limb a joint`},
	"alias":              {"version: 1\nlimbs:\n  - joint: &j a\n    end: *j\n", `3:12: joint is a YAML anchor, expected a text`},
	"tag":                {"version: 1\nlimbs:\n  - joint: !!str a\n    end: b\n", `3:12: joint is a YAML tag, expected a text`},
	"key alike":          {limbFile("center: auto"), `stretch, crease, exclude, rigid; did you mean centre?`},
	"merge":              {"version: 1\nlimbs:\n  - joint: a\n    <<: {end: b}\n", `4:5: limb "a": unknown key "<<", expected one of`},
	"two documents":      {limbFile() + "---\n" + limbFile(), `7:1: a second document, expected one`},
	"not closed":         {"version: 1\nlimbs: [\n", `2:8: sequence end token ']' not found`},
	"tab":                {"version: 1\nlimbs:\n\t- joint: a\n", `3:1: found character '\t' that cannot start any token`},
	"deep brackets":      {strings.Repeat("[", 100000), `1:17: is nested more than 16 deep, expected a limb file`},
	"deep lines":         {strings.Repeat("[\n", 100000), `17:1: is nested more than 16 deep, expected a limb file`},
	"deep dashes":        {strings.Repeat("- ", 100000), `1:33: is nested more than 16 deep, expected a limb file`},
	"too long":           {strings.Repeat("#", maxLimbFile+1), `has 1048577 bytes, expected a limb file of 1048576 at most`},
	"control characters": {limbFile("twist: \"a\\nb\""), `5:12: limb "a": twist is "a\nb", expected own or tip`},
}

func TestParseLimbsErrors(t *testing.T) {
	for what, bad := range badLimbFiles {
		t.Run(what, func(t *testing.T) {
			_, err := ParseLimbs("limbs.yaml", []byte(bad.file))
			require.ErrorContains(t, err, bad.message)
			require.True(t, strings.HasPrefix(err.Error(), "limbs.yaml:"))
			require.NotContains(t, err.Error(), "\n")
		})
	}
}

// Beyond what the schema can say (see LimbsSchema), what JSON has no form for,
// and numbers that the YAML package takes for texts (see bareNumber).
var beyondSchema = map[string]bool{
	"exponents": true, "infinite direction": true, "slanting direction": true, "name an exponent": true, "limits turned": true, "no extent": true,
	"stretch by itself": true, "stretch yes": true, "no end to stretch": true, "stretch share sum": true, "stretch count": true,
	"crease at a point": true, "crease no span": true, "crease late": true,
	"plain and a centre": true, "best, no centre": true, "best, no range": true,
	"end is joint": true, "anchor is joint": true, "shares count": true, "name twice": true, "joint twice": true,
	"alias": true, "tag": true, "merge": true, "infinite point": true, "two documents": true, "key twice": true,
	"too long": true, "deep brackets": true, "deep lines": true, "deep dashes": true, "not closed": true, "tab": true,
}

func TestLimbsSchemaAgreesWithParser(t *testing.T) {
	schema := compileLimbsSchema(t)
	for what, file := range goodLimbFiles {
		_, err := ParseLimbs(what, []byte(file))
		require.NoError(t, err, what)
		if !beyondSchema[what] {
			require.NoError(t, schema.Validate(asJSON(t, file)), what)
		}
	}
	for what, bad := range badLimbFiles {
		if !beyondSchema[what] {
			require.Error(t, schema.Validate(asJSON(t, bad.file)), what)
		}
	}
}

func compileLimbsSchema(t require.TestingT) *jsonschema.Schema {
	parsed, err := jsonschema.UnmarshalJSON(strings.NewReader(LimbsSchema()))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("limbs.schema.json", parsed))
	schema, err := compiler.Compile("limbs.schema.json")
	require.NoError(t, err)
	return schema
}

// asJSON is a YAML file as JSON would hold it.
func asJSON(t require.TestingT, file string) any {
	var value any
	require.NoError(t, yaml.Unmarshal([]byte(file), &value))
	text, err := json.Marshal(value)
	require.NoError(t, err)
	out, err := jsonschema.UnmarshalJSON(strings.NewReader(string(text)))
	require.NoError(t, err)
	return out
}

// limbsGenerator draws limb files with every kind of name and number.
func limbsGenerator() *rapid.Generator[Limbs] {
	text := rapid.OneOf(
		rapid.StringN(1, 12, -1),
		rapid.StringMatching(`[A-Za-z0-9_.:#@ \-\[\]{}"'\\,&*!|>%~=<?\t\n]{1,12}`),
		rapid.SampledFrom([]string{"true", "null", "~", "12", "1e3", "0x1F", "#3", "- a", "a: b", " a", "a ", "左ひざ", "yes", ".inf", "<<", "---", "...", "\u0085", "\u2028", "\ufeff", "a\u00a0"}),
	).Filter(func(s string) bool { return !strings.ContainsRune(s, '\uFFFD') })
	direction := rapid.Custom(func(t *rapid.T) *[3]float64 {
		v := &[3]float64{}
		for i := range v {
			v[i] = rapid.Float64Range(-math.MaxFloat64, math.MaxFloat64).Draw(t, "coordinate")
		}
		if *v == ([3]float64{}) {
			v[1] = 1
		}
		return v
	})
	return rapid.Custom(func(t *rapid.T) Limbs {
		l := Limbs{Version: LimbsVersion, Limbs: []LimbSpec{}}
		joints := rapid.SliceOfNDistinct(text, 0, 5, rapid.ID[string]).Draw(t, "joints")
		names := rapid.SliceOfNDistinct(text, len(joints), len(joints), rapid.ID[string]).Draw(t, "names")
		for i, joint := range joints {
			other := func(label string) string {
				return text.Filter(func(s string) bool { return s != joint }).Draw(t, label)
			}
			s := LimbSpec{
				Name: names[i], Joint: joint, Segments: rapid.SampledFrom([]int{0, 2, 3, 7, 32}).Draw(t, "segments"),
				Twist: TwistOwn, Shares: Shares{Ramp: SharesLinear}, Centre: Centre{Mode: CentreAuto},
			}
			if rapid.Bool().Draw(t, "point") {
				s.End.Point = direction.Draw(t, "end")
			} else {
				s.End.Joint = other("end")
			}
			if rapid.Bool().Draw(t, "tip twist") {
				s.Twist, s.Tip = TwistTip, other("tip")
			}
			if rapid.Bool().Draw(t, "list") {
				s.Shares = Shares{List: rapid.SliceOfN(rapid.Float64Range(0, 1), s.segments(), s.segments()).Draw(t, "shares")}
			}
			if rapid.Bool().Draw(t, "anchored") {
				s.Anchor = other("anchor")
			}
			if rapid.Bool().Draw(t, "centred") {
				s.Centre = Centre{Direction: direction.Draw(t, "centre")}
			}
			if s.Twist == TwistTip {
				s.Centre = Centre{Mode: rapid.SampledFrom([]string{CentreAuto, CentreNone}).Draw(t, "no centre")}
			}
			switch rapid.IntRange(0, 2).Draw(t, "range") {
			case 1:
				s.Range.Name = rapid.SampledFrom([]string{RangeHip, RangeShoulder, RangeWrist, RangeClips, RangeNone}).Draw(t, "name")
			case 2:
				s.Range.FlexionDeg = [2]float64{rapid.Float64Range(-180, -1).Draw(t, "extension"), rapid.Float64Range(0, 180).Draw(t, "flexion")}
				if rapid.Bool().Draw(t, "own directions") {
					s.Range.Frame = frameGenerator().Draw(t, "directions")
				}
				s.Range.AbductionDeg = [2]float64{rapid.Float64Range(-90, -1).Draw(t, "adduction"), rapid.Float64Range(0, 90).Draw(t, "abduction")}
			}
			if s.idleField() == "range" {
				s.Range = Range{}
			}
			if s.Field = rapid.SampledFrom([]string{"", FieldShortest, FieldCentred, FieldLeastRoll}).Draw(t, "field"); s.checkField() != nil || s.idleField() != "" {
				s.Field = ""
			}
			if rapid.Bool().Draw(t, "stretched") {
				s.Stretch = stretchGenerator(s, other).Draw(t, "stretch")
			}
			if rapid.Bool().Draw(t, "creased") {
				s.Crease = creaseGenerator(s).Draw(t, "crease")
			}
			if rapid.Bool().Draw(t, "excludes") {
				s.Exclude = skinPartsGenerator(text).Draw(t, "exclude")
			}
			if rapid.Bool().Draw(t, "rigid pieces") {
				s.Rigid = skinPartsGenerator(text).Draw(t, "rigid")
			}
			l.Limbs = append(l.Limbs, s)
		}
		return l
	})
}

func limbsRoundTrip(t *rapid.T) {
	l := limbsGenerator().Draw(t, "limbs")
	file := l.YAML()
	back, err := ParseLimbs("limbs.yaml", file)
	if err != nil {
		t.Fatalf("%v\n%s", err, file)
	}
	require.EqualExportedValues(t, l, back, "%s", file)
}

func TestLimbsRoundTrip(t *testing.T) { rapid.Check(t, limbsRoundTrip) }

func FuzzLimbsRoundTrip(f *testing.F) { f.Fuzz(rapid.MakeFuzz(limbsRoundTrip)) }

// FuzzLimbs reads anything: one line of error, or limbs that read back.
func FuzzLimbs(f *testing.F) {
	for _, file := range goodLimbFiles {
		f.Add([]byte(file))
	}
	for _, bad := range badLimbFiles {
		if len(bad.file) < 1000 {
			f.Add([]byte(bad.file))
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := ParseLimbs("limbs.yaml", data)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			return
		}
		back, err := ParseLimbs("limbs.yaml", l.YAML())
		require.NoError(t, err, "%s", l.YAML())
		require.EqualExportedValues(t, l, back)
	})
}
