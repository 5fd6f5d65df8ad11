package asset

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// puppet has names that say something else than its VRM map does. Nodes: 0 the
// root, 1 to 3 an arm, 4 to 6 a leg.
const puppet = `
wurzel
	a_thigh_r @ 0.2 1 0
		a_shin_r
			a_foot_r
	b1 @ 0.1 0 0
		b2
			b3`

const (
	vrm1 = `{"VRMC_vrm": {"specVersion": "1.0", "humanoid": {"humanBones": {"hips": {"node": 0},
		"leftUpperArm": {"node": 1}, "leftLowerArm": {"node": 2}, "leftHand": {"node": 3},
		"leftUpperLeg": {"node": 4}, "leftLowerLeg": {"node": 5}, "leftFoot": {"node": 6}}}}}`
	vrm0 = `{"VRM": {"specVersion": "0.0", "humanoid": {"humanBones": [{"bone": "hips", "node": 0},
		{"bone": "leftUpperArm", "node": 1}, {"bone": "leftLowerArm", "node": 2}, {"bone": "leftHand", "node": 3},
		{"bone": "leftUpperLeg", "node": 4}, {"bone": "leftLowerLeg", "node": 5}, {"bone": "leftFoot", "node": 6}]}}}`
)

// withExtensions adds extensions to a skeleton's file.
func withExtensions(t require.TestingT, text, extensions string) []byte {
	var root map[string]any
	require.NoError(t, json.Unmarshal(skinned(skeleton(text)), &root))
	root["extensions"] = json.RawMessage(extensions)
	return encoded(t, root)
}

var (
	byMap = []string{
		"left thigh: b1 > b2",
		"left upper arm: a_thigh_r > a_shin_r",
		"left forearm: a_shin_r > a_foot_r ~ a_foot_r",
	}
	byName = []string{"right thigh: a_thigh_r > a_shin_r"}
)

func TestDetectVRM(t *testing.T) {
	for what, test := range map[string]struct {
		extensions string
		want       []string
	}{
		"1.0":              {vrm1, byMap},
		"0.x":              {vrm0, byMap},
		"1.0 comes first":  {strings.TrimSuffix(vrm1, "}") + `, "VRM": {}}`, byMap},
		"none":             {`{}`, byName},
		"no humanoid":      {`{"VRMC_vrm": {}}`, byName},
		"null":             {`{"VRMC_vrm": null}`, byName},
		"a list":           {`{"VRMC_vrm": {"humanoid": {"humanBones": [1, null]}}}`, byName},
		"empty":            {`{"VRMC_vrm": {"humanoid": {"humanBones": {}}}}`, byName},
		"out of range":     {strings.Replace(vrm1, `6}`, `8}`, 1), byName},
		"negative":         {strings.Replace(vrm0, `6}`, `-1}`, 1), byName},
		"no whole number":  {strings.Replace(vrm1, `6}`, `5.5}`, 1), byName},
		"a text":           {strings.Replace(vrm1, `6}`, `"6"}`, 1), byName},
		"a bone is null":   {strings.Replace(vrm1, `{"node": 6}`, `null`, 1), byName},
		"another key":      {strings.Replace(vrm1, `"node": 6`, `"NODE": 6`, 1), byName},
		"one node twice":   {strings.Replace(vrm1, `6}`, `5}`, 1), byName},
		"one bone twice":   {strings.Replace(vrm0, `leftFoot`, `leftLowerLeg`, 1), byName},
		"not one below":    {strings.Replace(vrm1, `"leftLowerLeg": {"node": 5}`, `"leftLowerLeg": {"node": 0}`, 1), byName},
		"arm under a leg?": {strings.NewReplacer(`: 3}`, `: 6}`, `: 6}`, `: 3}`).Replace(vrm1), byName},
	} {
		t.Run(what, func(t *testing.T) {
			f, err := Decode("test.gltf", withExtensions(t, puppet, test.extensions), nil)
			require.NoError(t, err)
			limbs, err := Detect(f)
			require.NoError(t, err)
			require.Equal(t, test.want, summary(limbs))
		})
	}
}

// A map whose joints move no skin does not hide what the names say.
func TestDetectVRMWithoutWeight(t *testing.T) {
	text := "wurzel\n\tx!\n\t\ty!\n\tthigh_l\n\t\tshin_l"
	f, err := Decode("test.gltf", withExtensions(t, text, `{"VRMC_vrm": {"humanoid": {"humanBones": {
		"leftUpperLeg": {"node": 1}, "leftLowerLeg": {"node": 2}}}}}`), nil)
	require.NoError(t, err)
	limbs, err := Detect(f)
	require.NoError(t, err)
	require.Equal(t, []string{"left thigh: thigh_l > shin_l"}, summary(limbs))
}

// VRM 0.x characters face -Z: flexion of their hips swings the thigh to -Z.
func TestFacing(t *testing.T) {
	for extensions, want := range map[string]float64{`{}`: 1, vrm1: 1, vrm0: -1, `{"VRM": {}}`: -1, `{"VRM": {"specVersion": "2.0"}}`: 1, `{"VRM": null}`: 1} {
		f, err := Decode("test.gltf", withExtensions(t, "hips\n\tthigh_l @ 0.1 0 0\n\t\tshin_l", extensions), nil)
		require.NoError(t, err)
		require.Equal(t, want, f.facing(), extensions)
		info, err := Resolve(f, []LimbSpec{{Joint: "thigh_l", End: End{Joint: "shin_l"}, Range: Range{Name: RangeHip}}})
		require.NoError(t, err)
		require.InDelta(t, want, info[0].Range.Forward.Z, 1e-12)
		require.InDelta(t, want, info[0].Range.Out.X, 1e-12)
	}
}

// A body in a VRM 0.x file whose names do not tell sides has its left at -X.
func TestSidesOfVRM0(t *testing.T) {
	text := "root\n\tthigh 1 @ -0.1 0 0\n\t\tshin 1\n\tthigh 2 @ 0.1 0 0\n\t\tshin 2"
	f, err := Decode("test.gltf", withExtensions(t, text, `{"VRM": {}}`), nil)
	require.NoError(t, err)
	limbs, err := Detect(f)
	require.NoError(t, err)
	require.Equal(t, []string{"left thigh: thigh 1 > shin 1", "right thigh: thigh 2 > shin 2"}, summary(limbs))
}

// FuzzHumanoid reads any extensions: no panic, and what is read is in range.
func FuzzHumanoid(f *testing.F) {
	f.Add(vrm1)
	f.Add(vrm0)
	f.Fuzz(func(t *testing.T, extensions string) {
		if !json.Valid([]byte(extensions)) {
			return
		}
		file, err := Decode("test.gltf", withExtensions(t, puppet, extensions), nil)
		if err != nil {
			oneLine(t, err)
			return
		}
		for node := range file.humanoid() {
			require.True(t, node >= 0 && node < len(file.Doc.Nodes))
		}
		_, err = Detect(file)
		require.NoError(t, err) // by the map or by the names
		require.Contains(t, []float64{1, -1}, file.facing())
	})
}
