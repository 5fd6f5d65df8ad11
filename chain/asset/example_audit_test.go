package asset_test

import (
	"fmt"

	"github.com/pronate/pronate/chain/asset"
)

// Do Wren's knees and elbows bend as hinges do?
func ExampleAuditHinges() {
	hinges, err := asset.AuditHinges(wren(), asset.AuditOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, h := range hinges {
		fmt.Println(h.Kind, h.Joint, "axis from", h.AxisFrom, "clean", h.Clean)
	}
	// Output:
	// knee shin_l axis from clips clean true
	// knee shin_r axis from clips clean true
	// elbow forearm_l axis from clips clean true
	// elbow forearm_r axis from clips clean true
}

// A range of motion of one's own, in degrees.
func ExampleParseRange() {
	r, err := asset.ParseRange("stiff.yaml", []byte("name: stiff hip\nflexion_deg: [-10, 90]\nabduction_deg: [-20, 30]\n"))
	fmt.Println(r.Name, r.Range.FlexionDeg, r.Range.AbductionDeg, err)

	_, err = asset.ParseRange("stiff.yaml", []byte("flexion_deg: [90, -10]\nabduction_deg: [-20, 30]\n"))
	fmt.Println(err)
	// Output:
	// stiff hip [-10 90] [-20 30] <nil>
	// stiff.yaml:1:14: range has flexion_deg [90, -10], expected the least before the greatest, within 180 degrees either way
}
