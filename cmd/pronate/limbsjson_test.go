package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
)

// The JSON form is a limb file: it reads back as the same limbs, whatever
// joints are called, and the published schema takes it.
func TestLimbsAsJSON(t *testing.T) {
	limbs := asset.Limbs{Version: 1, Limbs: []asset.LimbSpec{
		{
			Name: "a \"b\" \\ \n\t\x07\x7f <&> é 😀 \u2028", Joint: "#12", End: asset.End{Point: &[3]float64{0, 0.25, -1e-9}},
			Segments: 3, Twist: asset.TwistTip, Tip: "true", Shares: asset.Shares{List: []float64{0, 0.5, 1}},
			Anchor: "1e3", Centre: asset.Centre{Mode: asset.CentreAuto},
			Stretch: &asset.Stretch{By: "a, b}", Limits: [2]float64{0.7, 1.5}, Shares: []float64{0.25, 0.5, 0.25}, Exponent: new(0.)},
			Crease:  &asset.Crease{At: asset.CreaseAtRoot, Most: 0.02, OnsetDeg: 0, FullDeg: 90},
		},
		{
			Name: "null", Joint: "- a: b", End: asset.End{Joint: "# no comment"}, Segments: 2, Twist: asset.TwistOwn,
			Shares: asset.Shares{Ramp: asset.SharesSmooth}, Centre: asset.Centre{Direction: &[3]float64{1, 0, -1}},
			Stretch: &asset.Stretch{By: asset.StretchByEnd},
		},
		{
			Name: "auto, in directions of its own", Joint: "b", End: asset.End{Joint: "c"}, Twist: asset.TwistOwn,
			Shares: asset.Shares{Ramp: asset.SharesLinear}, Centre: asset.Centre{Mode: asset.CentreAuto},
			Range: asset.Range{
				FlexionDeg: [2]float64{-71.5, 71.5}, AbductionDeg: [2]float64{-0.1, 1. / 3},
				Frame: asset.RangeFrame{Down: [3]float64{0.6, -0.8}, Forward: [3]float64{0.8, 0.6}, Out: [3]float64{0, 0, -1. / 3}},
			},
		},
	}}
	data, err := encodeJSON(limbsAsJSON(limbs))
	require.NoError(t, err)
	again, err := asset.ParseLimbs("limbs.json", data)
	require.NoError(t, err, string(data))
	require.EqualExportedValues(t, limbs, again)

	var schema, value any
	require.NoError(t, json.Unmarshal([]byte(asset.LimbsSchema()), &schema))
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("limbs.json", schema))
	compiled, err := compiler.Compile("limbs.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &value))
	require.NoError(t, compiled.Validate(value))
}

// detect's JSON goes where its YAML would, and split takes it from a file and
// from standard input.
func TestDetectedJSONIntoSplit(t *testing.T) {
	in := wren(t)
	file := filepath.Join(t.TempDir(), "limbs.json")
	got := pronate(t, "", "detect", in, "--json", "-o", file)
	require.Equal(t, exitDone, got.code, got.err)
	require.Empty(t, got.out)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(data), pronate(t, "", "detect", in, "--json").out)

	split := func(input string, limbs ...string) []byte {
		out := filepath.Join(t.TempDir(), "out.glb")
		got := pronate(t, input, append([]string{"split", in, "-o", out}, limbs...)...)
		require.Equal(t, exitDone, got.code, got.err)
		data, err := os.ReadFile(out)
		require.NoError(t, err)
		return data
	}
	want := split("")
	require.Equal(t, want, split("", "--limbs", file))
	require.Equal(t, want, split(string(data), "--limbs", "-"))

	got = pronate(t, "version: 2", "split", in, "-o", file+".glb", "--limbs", "-")
	require.Equal(t, exitFailed, got.code)
	require.Contains(t, got.err, "standard input:1:10: version is 2")
}
