package asset_test

import (
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/stretchr/testify/require"
)

func wrenFile(t *testing.T) *asset.File {
	t.Helper()
	data, err := demo.Wren()
	require.NoError(t, err)
	f, err := asset.Decode("wren.glb", data, nil)
	require.NoError(t, err)
	return f
}

// What only the character can tell is told at its place in the limb file; a
// limb that came from none names the character.
func TestMessagesAtTheirPlace(t *testing.T) {
	for lines, want := range map[string]string{
		`joint: thigh
    end: shin_l`: `3:12: limb "left thigh": joint: there is no node "thigh", did you mean "thigh_l"?`,
		`joint: thihg_l
    end: shin_l`: `3:12: limb "left thigh": joint: there is no node "thihg_l", did you mean "thigh_l"?`,
		`joint: fin
    end: shin_l`: `3:12: limb "left thigh": joint: there is no node "fin", expected a joint's name or its index, as in "#0"`,
		`joint: thigh_l
    end: shinl`: `4:10: limb "left thigh": end: there is no node "shinl", did you mean "shin_l"?`,
		`joint: thigh_l
    end: foot_r`: `4:10: limb "left thigh": end: "foot_r" is not below the joint, expected one of its descendants or a point`,
		`joint: thigh_l
    end: shin_l
    stretch: {exponent: 0, by: hnd_l}`: `5:32: limb "left thigh": stretch: there is no node "hnd_l", did you mean "hand_l"?`,
		`joint: thigh_l
    end: shin_l
    stretch: {by: thigh_l}`: `5:19: limb "left thigh": stretch by is "thigh_l", the limb's joint itself, expected another`,
		`joint: thigh_l
    end: shin_l
    crease: {at: end, most_m: 0.3}`: `5:31: limb "left thigh": crease: most_m is 0.3 m, expected 0.208 m at most, half of the bone's length, 0.417 m`,
		`joint: thigh_l
    end: shin_l
    twist: tip
    tip: thigh_r`: `6:10: limb "left thigh": tip: "thigh_r" is not below the joint, expected one of its descendants`,
	} {
		name := "name: left thigh"
		file := "version: 1\nlimbs:\n  - " + lines + "\n    " + name + "\n"
		limbs, err := asset.ParseLimbs("limbs.yaml", []byte(file))
		if err == nil {
			_, _, err = asset.Split(wrenFile(t), asset.Options{AsAsked: true, Limbs: limbs.Limbs})
		}
		require.EqualError(t, err, "limbs.yaml:"+want, lines)
	}
	_, _, err := asset.Split(wrenFile(t), asset.Options{AsAsked: true, Limbs: []asset.LimbSpec{{Joint: "thigh", End: asset.End{Joint: "shin_l"}}}})
	require.EqualError(t, err, `wren.glb: limb "thigh": joint: there is no node "thigh", did you mean "thigh_l"?`)
}
