package splitter

import (
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/stretchr/testify/require"
)

// Whatever is loaded or sent is refused with one line that says what was expected.
func TestHostileInput(t *testing.T) {
	c := wren(t)
	const thigh = `"joint":"thigh_l","end":"shin_l"`
	limb := func(more string) string { return `{"limbs":[{` + thigh + more + `}]}` }
	garbage := []byte(strings.Repeat("\x00\xff{\n", 100))
	for _, try := range []struct {
		data  []byte
		limbs string
		want  string
	}{
		{nil, limb(""), "wren.glb: is empty, expected a glTF 2.0 file"},
		{garbage, limb(""), "wren.glb: is neither glTF JSON nor binary glTF"},
		{c.data[:1000], limb(""), "has 1000 bytes, expected the"},
		{c.data, "", "limbs: the JSON ends too early, expected an object"},
		{c.data, "\xff", "limbs: near byte"},
		{c.data, "[]", "limbs: is JSON's array, expected an object"},
		{c.data, `{"limbs":[]}`, "limbs: has 0 limbs, expected 1 to 1000"},
		{c.data, `{"limbs":null,"version":1}`, "limbs: has 0 limbs"},
		{c.data, limb("") + "{}", "limbs: goes on after its end"},
		{c.data, `{"version":2,` + limb("")[1:], "limbs: version is 2, expected 1"},
		{c.data, limb(`,"colour":"red"`), `unknown field "colour"`},
		{c.data, limb(`,"segments":"three"`), `segments is "three", expected auto or a whole number`},
		{c.data, limb(`,"segments":2.5`), "segments is 2.5, expected auto or a whole number"},
		{c.data, limb(`,"segments":0`), "segments is 0, expected auto or a whole number"},
		{c.data, limb(`,"range":{"flexion_deg":[0,1],"abduction_deg":[0,1],"down":[0,1,0]}`), "expected hip, shoulder, wrist, clips, none or limits"},
		{c.data, limb(`,"segments":33`), `wren.glb: limb "thigh_l": segments is 33, expected auto or a whole number from 2 to 32`},
		{c.data, limb(`,"shares":[0,null]`), "shares is [0,null], expected linear, smooth or a list of numbers"},
		{c.data, limb(`,"shares":[0,2]`), "shares has 2 at place 2, expected 0 to 1"},
		{c.data, limb(`,"shares":"steep"`), `shares is "steep", expected linear, smooth or a list of numbers from 0 to 1`},
		{c.data, limb(`,"centre":[1,2]`), "centre is [1,2], expected auto, none or a direction [x, y, z]"},
		{c.data, limb(`,"centre":[0,0,0]`), "centre is [0, 0, 0], expected three finite numbers, not all 0"},
		{c.data, limb(`,"range":{"flexion_deg":[0,1]}`), "expected hip, shoulder, wrist, clips, none or limits"},
		{c.data, limb(`,"range":{"flexion_deg":[0,0],"abduction_deg":[0,0]}`), "expected hip, shoulder, wrist, clips, none or limits"},
		{c.data, limb(`,"range":7`), "range is 7, expected hip"},
		{c.data, limb(`,"field":"worst"`), `field is "worst", expected shortest, centred, least_roll or balanced`},
		{c.data, limb(`,"tip":"foot_l"`), `tip is "foot_l", expected none where twist is own`},
		{c.data, `{"limbs":[{"joint":"knee_l","end":"shin_l"}]}`, `wren.glb: limb "knee_l": joint: there is no node "knee_l", expected a joint's name`},
		{c.data, `{"limbs":[{"joint":"thigh_l","end":[0,"1",0]}]}`, `limb 1, "": end is [0,"1",0], expected a joint's name or a point [x, y, z]`},
		{c.data, `{"limbs":[{"joint":"thigh_l"}]}`, "end is empty, expected a joint's name or a point"},
		{c.data, `{"limbs":[{` + thigh + `},{"name":"again",` + thigh + `}]}`, "expected one limb a joint"},
	} {
		_, _, err := Split(c.name, try.data, try.limbs)
		require.ErrorContains(t, err, try.want)
		require.NotContains(t, err.Error(), "\n")
	}
	for _, data := range [][]byte{nil, garbage, c.data[:1000], []byte(`{"asset":{"version":"2.0"}}`)} {
		_, _, err := Detect("a\nb.glb", data)
		require.ErrorContains(t, err, `a\nb.glb: `)
		require.NotContains(t, err.Error(), "\n")
	}
	_, err := LimbFile(limb(`,"segments":99`))
	require.ErrorContains(t, err, `limb "thigh_l": segments is 99, expected auto or a whole number from 2 to 32`)
}

// A character without names says so in one line; the rest of the help is for a
// terminal.
func TestNoLimbsIsOneLine(t *testing.T) {
	c := wren(t)
	text := strings.ReplaceAll(string(c.data), "thigh", "xxxxx")
	for _, part := range []string{"upper_arm", "forearm", "shin", "hand", "foot", "collarbone"} {
		text = strings.ReplaceAll(text, part, strings.Repeat("x", len(part)))
	}
	_, _, err := Detect(c.name, []byte(text))
	require.EqualError(t, err, "wren.glb: found no arms or legs by the names of its joints, expected a limb file that names them")
}

// FuzzLimbs has limbs of any kind read, written as a limb file and split: all of it
// works or gives a line, and a limb file that was written reads back.
func FuzzLimbs(f *testing.F) {
	c := wren(f)
	_, detected, err := Detect(c.name, c.data)
	require.NoError(f, err)
	f.Add(detected)
	f.Add(`{"limbs":[{"joint":"thigh_l","end":[0,-0.4,0.1],"shares":[0,0.5,1],"centre":[0,-1,1]}]}`)
	f.Add(`{"version":1,"limbs":[{"joint":"#1","end":"#2","range":{"flexion_deg":[-30,120],"abduction_deg":[-30,45]},"field":"balanced","exclude":{"pieces":["Body/0/0"]},"rigid":{"meshes":["Body"]}}]}`)
	f.Add(`{"limbs":[{"joint":"thigh_l","end":"shin_l","segments":"auto","exclude":{"materials":[""]}}]}`)
	f.Add(`{"limbs":[{"name":"é\n\u2028","joint":"forearm_l","end":"hand_l","tip":"hand_l","twist":"tip","shares":"smooth","anchor":"pelvis"}]}`)
	f.Fuzz(func(t *testing.T, limbs string) {
		text, err := LimbFile(limbs)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
		} else {
			_, err := asset.ParseLimbs("limbs.yaml", []byte(text))
			require.NoError(t, err)
		}
		if _, _, err := Split(c.name, c.data, limbs); err != nil {
			require.NotContains(t, err.Error(), "\n")
		}
	})
}
