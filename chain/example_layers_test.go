package chain_test

import (
	"fmt"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
)

// By default the first segment follows the pelvis and is aimed along the thigh, so
// that it has none of the thigh's twist. With FollowJoint all segments share the
// joint's own rotation instead.
func ExampleLayer() {
	for _, layers := range [][]chain.Layer{chain.DefaultLayers(), {chain.FollowJoint}} {
		thigh, err := chain.NewSolver(chain.Limb{Name: "thigh_l", Layers: layers})
		if err != nil {
			fmt.Println(err)
			return
		}
		segments := make([]rest.Frame, thigh.Segments())
		thigh.SolveWorld(segments, chain.Pose{Joint: rest.Frame{Rotation: twist.About(thigh.Axis(), 80*degree)}})
		for _, f := range segments {
			angle, _ := twist.Angle(f.Rotation, thigh.Axis())
			fmt.Printf("%.0f ", angle/degree)
		}
	}
	// Output: 0 80 80 80
}
