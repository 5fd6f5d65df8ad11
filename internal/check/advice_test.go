package check

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func posed(limb string, before, after float64, where string) Pose {
	return Pose{Limb: limb, Kind: Twist, where: where, Before: Loss{Radius: before, Volume: 1}, After: Loss{Radius: after, Volume: 1}}
}

func TestAdviceNamesWhatGetsWorse(t *testing.T) {
	c := &inspection{findings: Findings{
		Limbs: []Limb{{Name: "arm", Segments: 3}, {Name: "leg", Segments: 2, Enough: 4, ClipsTwist: 40, EnoughForClips: 3}},
		Poses: []Pose{
			posed("arm", 0.97, 0.95, "at a twist of 60 degrees"), posed("arm", 0.96, 0.90, "at a twist of 90 degrees"),
			posed("leg", 0.97, 0.92, "in Run at 1.00 s"),
		},
	}}
	require.Equal(t, []string{
		"arm: narrower when split than with one joint at a twist of 90 degrees (90 % instead of 96 %): the mesh is coarse there or its weights do not hand over inside the limb; leave it out or look at it.",
		"leg: narrower when split than with one joint in Run at 1.00 s (92 % instead of 97 %): 2 segments are too few.",
		`4 segments ("segments: 4" in the limb file) keep 95 % of the radius at a twist of 90 degrees. These have fewer: leg (clips go to 40 degrees, for which 3 are enough).`,
	}, c.advice())
}

func TestAdviceOfNothing(t *testing.T) {
	advice := func(before, after float64) []string {
		c := &inspection{findings: Findings{Limbs: []Limb{{Name: "arm", Segments: 3}}, Poses: []Pose{posed("arm", before, after, "")}}}
		return c.advice()
	}
	const nothing = "Nothing: split it as it is."
	require.Equal(t, []string{nothing}, advice(0.80, 0.97))
	require.NotContains(t, advice(0.97, 0.95), nothing) // worse
	require.NotContains(t, advice(0.80, 0.80), nothing) // collapses
	require.Contains(t, advice(0.80, 0.80)[0], "15 % of their radius in some pose: arm.")
}

func TestRoomForSegments(t *testing.T) {
	f := Findings{Limbs: []Limb{{Name: "arm", Segments: 3, Enough: 4, crowded: map[int]bool{4: true}}}}
	require.Contains(t, f.numbers(4)[0], "arm (no twist in the clips)")
	require.Contains(t, f.numbers(4)[0], "and --influences 8")
	require.NotContains(t, f.numbers(8)[0], "influences")
}

func TestRemarks(t *testing.T) {
	f := Findings{
		Limbs: []Limb{{Name: "left thigh", From: 0.22, To: 1}, {Name: "right thigh", From: 0.22, To: 1}, {Name: "arm", To: 1}},
		Poses: []Pose{{Limb: "arm", Kind: Twist, Before: Loss{Volume: 1}, After: Loss{Volume: 1}}},
		Hinges: []asset.HingeReport{
			{Joint: "knee", RestBendDeg: 2, Clips: []asset.HingeClip{{Clip: "Stand", HyperextensionDeg: 6}, {Clip: "Walk", HyperextensionDeg: 19}}},
			{Joint: "hock", RestBendDeg: 43, Clips: []asset.HingeClip{{Clip: "Walk", HyperextensionDeg: 17}}},
			{Joint: "elbow", Clips: []asset.HingeClip{{Clip: "Walk", HyperextensionDeg: 4}}},
		},
	}
	f.Poses = append(f.Poses, unmeasuredPose("arm"), unmeasuredPose("arm"))
	require.Equal(t, []string{
		"no section goes round left thigh, right thigh nearer the root than at 22 % of the bone: what is lost there is in no figure",
		"sections, volume or twist of the skin could not be measured, which a dash shows, of arm in 2 of 3 poses: the mesh cannot be cut or closed well there",
		"knee bends up to 17 degrees beyond straight in Walk; at rest its bones are bent by 2 degrees",
		"hock bends up to 17 degrees back past its rest in Walk; at rest its bones are bent by 43 degrees",
	}, f.remarks())
}

func unmeasuredPose(limb string) Pose {
	return Pose{Limb: limb, Kind: Corner, Before: Loss{Radius: 1, Volume: math.NaN()}, After: Loss{Radius: 1, Volume: 1}}
}

// Straight sideways there is no flexion: corners are as many as directions.
func TestCornersOfOneDirection(t *testing.T) {
	field, err := swing.NewField(r3.Vec{Y: -1}, r3.Vec{Y: -1})
	require.NoError(t, err)
	limb := asset.LimbInfo{Tip: -1, Axis: r3.Vec{Y: -1}, TurnAxis: r3.Vec{Y: -1}, Field: field}
	limb.Range = chain.Shoulder(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})
	var names []string
	for _, p := range plan([]asset.LimbInfo{limb}) {
		if p.kind == Corner {
			names = append(names, p.name)
		}
	}
	require.Equal(t, []string{
		"flexion -60°, abduction -30°", "flexion -60°, abduction 0°", "abduction 90°",
		"flexion 0°, abduction -30°", "flexion 180°, abduction -30°", "flexion 180°, abduction 0°",
	}, names)
	require.Equal(t, "0°", wholeDegrees(-0.001))
}

func TestAssumed(t *testing.T) {
	info := func(s asset.Range, r chain.Range) string {
		return rangeOf(asset.LimbInfo{Spec: asset.LimbSpec{Range: s}, Range: r}).Name
	}
	hip := chain.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})
	require.Equal(t, "hip", info(asset.Range{}, hip))
	require.Equal(t, "shoulder", info(asset.Range{}, chain.Shoulder(hip.Down, hip.Forward, hip.Out)))
	require.Equal(t, "wrist", info(asset.Range{Name: "wrist"}, hip))
	require.Equal(t, "none", info(asset.Range{Name: "none"}, chain.Range{}))
	require.Equal(t, "clips", info(asset.Range{Name: "clips"}, hip))
	fitted := asset.LimbInfo{RangeSpec: asset.Range{FlexionDeg: [2]float64{-30, 120}, Frame: asset.RangeFrame{Down: [3]float64{1}}}, Range: chain.Range{Flexion: [2]float64{-1, 1}}}
	require.Equal(t, "clips", rangeOf(fitted).Name)
	require.Equal(t, "limits", info(asset.Range{FlexionDeg: [2]float64{-30, 120}}, hip))
}
