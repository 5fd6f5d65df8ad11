package asset_test

import (
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// The node pose of a split character is what a clip that holds the same pose has:
// twist shared out, bones stretched and eased. So clips that leave a limb alone need
// no channel for it.
func TestSegmentsStandInTheNodePose(t *testing.T) {
	if testing.Short() {
		t.Skip("nothing in it runs beside another")
	}
	for name, o := range map[string]fixture.Options{
		"posed":          {Posed: true},
		"a clip's frame": {PosedIn: "wild", Axes: fixture.Odd, Mirrored: true},
		"at rest":        {Axes: fixture.Odd},
	} {
		for _, shaped := range []bool{false, true} {
			o.Clips = []string{"stand", "twist thigh"}
			character, err := fixture.Build(o)
			require.NoError(t, err)
			file, err := asset.Decode(character.Name, character.Data, nil)
			require.NoError(t, err)
			limbs, err := asset.Detect(file)
			require.NoError(t, err)
			if shaped {
				for i := range limbs.Limbs {
					limbs.Limbs[i].Stretch = &asset.Stretch{}
					if limbs.Limbs[i].Tip == "" {
						limbs.Limbs[i].Crease = &asset.Crease{At: asset.CreaseAtEnd, Most: 0.02, OnsetDeg: 5, FullDeg: 60}
					}
				}
			}
			c := splitVariant(t, "stand", o, asset.Options{AsAsked: true, Limbs: limbs.Limbs})
			require.LessOrEqual(t, c.report.RestErrorMax, bindTolerance)

			influences := c.split.Influences()
			stand, held, other := c.split.Pose("", 0).Vertices(), c.split.Pose("stand", 0).Vertices(), c.split.Pose("twist thigh", 0.6).Vertices()
			for i := range stand {
				off := mgl64.Vec3(stand[i]).Sub(mgl64.Vec3(held[i])).Len()
				require.LessOrEqual(t, off, restTolerance*c.source.Height(), "%s, vertex %d", name, i)
				onLeg := false
				for _, in := range influences[i] {
					onLeg = onLeg || legs[in.Joint[:3]]
				}
				if !onLeg {
					require.Equal(t, stand[i], other[i], "%s, vertex %d: a clip of the thighs alone", name, i)
				}
			}
			// And it is not the pose of one joint, where there is twist.
			moved := c.farthest("", 0, nil)
			if o.Posed || o.PosedIn != "" {
				require.Greater(t, moved, 1e-3, name)
			} else {
				require.LessOrEqual(t, moved, restTolerance, name)
			}
			// No clip leaves a limb turned otherwise than the solver has it.
			for _, clip := range c.report.Clips {
				require.LessOrEqual(t, clip.ErrorMaxDeg, asset.DefaultTolerance*57.3)
			}
		}
	}
}

// legs are how the names of joints begin that a thigh carries.
var legs = map[string]bool{"thi": true, "shi": true, "foo": true}
