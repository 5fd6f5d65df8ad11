package asset_test

import (
	"fmt"

	"github.com/pronate/pronate/chain/asset"
)

// A shin with a range of motion of its own, whose bone may stretch and whose flesh is
// eased out of the fold of the knee. Words and limits are those of a limb file.
func ExampleLimbSpec() {
	limbs := asset.Limbs{Version: asset.LimbsVersion, Limbs: []asset.LimbSpec{{
		Joint:   "shin_l",
		End:     asset.End{Joint: "foot_l"},
		Range:   asset.Range{FlexionDeg: [2]float64{-140, 5}, AbductionDeg: [2]float64{-10, 10}},
		Stretch: &asset.Stretch{By: asset.StretchByEnd, Limits: [2]float64{0.9, 1.2}},
		Crease:  &asset.Crease{At: asset.CreaseAtRoot, Most: 0.02, OnsetDeg: 60, FullDeg: 130},
	}}}
	// A limb file says the same, its defaults filled in.
	again, err := asset.ParseLimbs("limbs.yaml", limbs.YAML())
	if err != nil {
		fmt.Println(err)
		return
	}
	shin := again.Limbs[0]
	fmt.Println(shin.Name, shin.Segments, shin.Range.FlexionDeg, shin.Stretch.Limits, shin.Crease.FullDeg)

	_, report, err := asset.Split(wren(), asset.Options{Limbs: limbs.Limbs})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(report.Limbs[0].Segments)
	// Output:
	// shin_l 0 [-140 5] [0.9 1.2] 130
	// [shin_segment1_l shin_segment2_l]
}
