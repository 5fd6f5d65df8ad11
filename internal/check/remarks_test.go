package check

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestRemarks(t *testing.T) {
	f := Findings{
		Limbs: []Limb{{Name: "left thigh", From: 0.22, To: 1}, {Name: "right thigh", From: 0.22, To: 1}, {Name: "arm", To: 1}},
		Poses: []Pose{{Limb: "arm", Kind: Twist, Before: Loss{Volume: 1}, After: Loss{Volume: 1}}},
		Hinges: []asset.HingeReport{
			{Joint: "knee", RestBendDeg: 2, Clean: false, Clips: []asset.HingeClip{{Clip: "Stand", HyperextensionDeg: 6}, {Clip: "Walk", HyperextensionDeg: 19}}},
			{Joint: "hock", Clean: true, RestBendDeg: 43, Clips: []asset.HingeClip{{Clip: "Walk", HyperextensionDeg: 17}}},
			{Joint: "elbow", Clean: true, Clips: []asset.HingeClip{{Clip: "Walk", HyperextensionDeg: 4}}},
		},
	}
	f.Beyond = []asset.Excursion{{Limb: "arm"}, {Limb: "arm"}}
	f.Poses = append(f.Poses, unmeasuredPose("arm"), unmeasuredPose("arm"))
	require.Equal(t, []string{
		"no section goes round left thigh, right thigh nearer the root than at 22 % of the bone: what is lost there is in no figure",
		"sections, volume or twist of the skin could not be measured, which a dash shows, of arm in 2 of 3 poses: the mesh cannot be cut or closed well there",
		"clips turn these off their hinge, as the table of hinges says: knee",
		"clips leave the range of motion of arm: the field of swings is smooth within the range only",
		"knee bends up to 17 degrees beyond straight in Walk; at rest its bones are bent by 2 degrees",
		"hock bends up to 17 degrees back past its rest in Walk; at rest its bones are bent by 43 degrees",
	}, f.remarks())
}

func unmeasuredPose(limb string) Pose {
	return Pose{Limb: limb, Kind: Corner, Before: Loss{Radius: 1, Volume: math.NaN()}, After: Loss{Radius: 1, Volume: 1}}
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

// A figure may rise by 1 % and no further, and where it is above the source's already
// not at all.
func TestWorsened(t *testing.T) {
	for _, c := range []struct {
		source, was, is float64
		want            bool
	}{
		{.02, .01, .0100, false}, {.02, .01, .0101, false}, {.02, .01, .0103, true},
		{.01, .01, .0101, false}, {.01, .0101, .0102, true}, {.01, .02, .02, false}, {.01, .02, .0201, true},
	} {
		i := &inspection{findings: Findings{Poses: []Pose{{Limb: "arm", where: "at a twist", Before: Loss{Strain: c.source}}}}}
		at := func(strain float64) *measurement { return &measurement{poses: []Loss{{Strain: strain}}} }
		require.Equal(t, c.want, i.worsened(at(c.was), at(c.is)) == "arm at a twist", "%v", c)
	}
}

// A crease is raised from what it is, rounded as it is printed, and never beyond what
// a limb file may have.
func TestCreaseSetting(t *testing.T) {
	s := side{limb: "thigh", crease: asset.Crease{At: "end", Most: 0.02}, most: 0.2}.with(0.01234)
	require.Equal(t, "{at: end, most_m: 0.032}", s.Value)
	var l asset.LimbSpec
	s.apply(&l)
	require.Equal(t, &asset.Crease{At: "end", Most: 0.032}, l.Crease)
	require.Equal(t, "{at: root, most_m: 0.2}", side{crease: asset.Crease{At: "root"}, most: 0.2}.with(7).Value)
}
