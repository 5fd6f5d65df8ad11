package asset_test

import (
	"fmt"

	"github.com/pronate/pronate/chain/asset"
)

// Constraints that turn the segments without a clip, for programs that know
// VRMC_node_constraint.
func ExampleLive() {
	_, report, err := asset.Split(wren(), asset.Options{
		Limbs: []asset.LimbSpec{
			{Joint: "forearm_l", End: asset.End{Joint: "hand_l"}, Twist: asset.TwistTip, Tip: "hand_l"},
			{Joint: "thigh_l", End: asset.End{Joint: "shin_l"}, Field: asset.FieldCentred},
			{Joint: "thigh_r", End: asset.End{Joint: "shin_r"}},
		},
		AsAsked: true,
		Live:    asset.LiveBesideClips,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range report.Limbs {
		fmt.Printf("%s, %s field: %t\n", l.Name, l.Field, l.Live.Written)
	}
	near := report.Limbs[2].Live.Nearest // Options.Nearest would have taken it
	fmt.Printf("centred at %.2f, thigh_r would be off by %.0f degrees at most\n", near.Centre, near.ErrorMaxDeg)
	// Output:
	// forearm_l, shortest field: true
	// thigh_l, centred field: true
	// thigh_r, balanced field: false
	// centred at [-0.03 -0.98 0.20], thigh_r would be off by 6 degrees at most
}
