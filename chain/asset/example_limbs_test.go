package asset_test

import (
	"fmt"

	"github.com/pronate/pronate/chain/asset"
)

func ExampleParseLimbs() {
	limbs, err := asset.ParseLimbs("limbs.yaml", []byte(`
version: 1
limbs:
  - joint: forearm_l
    end: hand_l
    twist: tip
    tip: hand_l
`))
	fmt.Println(limbs.Limbs[0].Segments, limbs.Limbs[0].Shares.Ramp, err)

	_, err = asset.ParseLimbs("limbs.yaml", []byte(`
version: 1
limbs:
  - joint: thigh_l
    end: shin_l
    shares: [0, 1.5]
`))
	fmt.Println(err)
	// Output:
	// 0 linear <nil>
	// limbs.yaml:6:17: limb "thigh_l": shares has 1.5 at place 2, expected 0 to 1
}

// What was detected, as a limb file to edit.
func ExampleLimbs_YAML() {
	limbs, err := asset.Detect(wren())
	if err != nil {
		fmt.Println(err)
		return
	}
	again, err := asset.ParseLimbs("limbs.yaml", limbs.YAML())
	fmt.Println(len(again.Limbs) == len(limbs.Limbs), again.Limbs[0].Joint, again.Limbs[0].Segments, err)
	// Output: true thigh_l 0 <nil>
}
