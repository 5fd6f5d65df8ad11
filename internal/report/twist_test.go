package report_test

import (
	"bytes"
	"image/color"
	"image/png"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/report"
	"github.com/stretchr/testify/require"
)

// Skin that twist compresses is coloured with one joint per bone, and hardly any with
// segments.
func TestDrawTwists(t *testing.T) {
	wren, err := demo.Wren()
	require.NoError(t, err)
	source, err := asset.Decode("wren.glb", wren, nil)
	require.NoError(t, err)
	split, about, err := asset.Split(source, asset.Options{AsAsked: true})
	require.NoError(t, err)
	before, err := source.Evaluator()
	require.NoError(t, err)
	after, err := split.Evaluator()
	require.NoError(t, err)
	shot := demo.TwistedLimbs()[1]
	for _, l := range about.Limbs {
		if l.Joint == shot.Bone[0] {
			shot.Joints = l.Segments
		}
	}
	require.NotEmpty(t, shot.Joints)
	picture, err := report.DrawTwists(before, after, []report.TwistShot{shot})
	require.NoError(t, err)
	require.NotEqual(t, picture.Light, picture.Dark)
	drawn, err := png.Decode(bytes.NewReader(picture.Light))
	require.NoError(t, err)
	coloured := [2]int{}
	bounds := drawn.Bounds()
	for y := range bounds.Dy() * 3 / 4 { // above the legend
		for x := range bounds.Dx() {
			c := color.RGBAModel.Convert(drawn.At(x, y)).(color.RGBA)
			if int(c.R)-int(c.B) > 60 {
				coloured[x*2/bounds.Dx()]++
			}
		}
	}
	require.Greater(t, coloured[0], 1000)
	require.Less(t, coloured[1], coloured[0]/10)

	shot.Bone[1] = "no joint"
	_, err = report.DrawTwists(before, after, []report.TwistShot{shot})
	require.ErrorContains(t, err, `no joint "no joint"`)
}
