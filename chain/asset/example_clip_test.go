package asset_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
)

// A clip of one's own, in which Wren's left thigh turns about its bone by 45 degrees.
func ExampleAddClip() {
	limbs, err := asset.Resolve(wren(), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	thigh := limbs[0]
	still, err := asset.WithoutClips(wren()) // to look at this one alone
	if err != nil {
		fmt.Println(err)
		return
	}
	turned, err := asset.AddClip(still, asset.NewClip{
		Name:  "turn",
		Times: []float64{0, 1},
		Joints: []asset.JointTurns{{
			Joint:    thigh.Spec.Joint,
			FromRest: []quat.Number{{Real: 1}, twist.About(thigh.TurnAxis, math.Pi/4)},
		}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, report, err := asset.Split(turned, asset.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %s twists by %.1f degrees\n", report.Clips[0].Name, report.Limbs[0].Joint, report.Limbs[0].TwistMaxDeg)
	// Output: turn: thigh_l twists by 45.0 degrees
}

// Wren's hand at rest and in the middle of a clip, and her skin then, as a viewer
// shows it.
func ExampleFile_Evaluator() {
	e, err := wren().Evaluator()
	if err != nil {
		fmt.Println(err)
		return
	}
	hand := e.Node("hand_l")
	first, last := e.Span(0)
	rest, reach := e.World(-1, 0), e.World(0, (first+last)/2)
	fmt.Printf("%s: from %.2f m to %.2f m\n", e.Clips()[0], rest[hand].Col(3).Y(), reach[hand].Col(3).Y())

	highest := 0.
	for _, v := range e.Vertices(reach) {
		highest = max(highest, v.Y)
	}
	fmt.Printf("her finger tips at %.2f m\n", highest)
	// Output:
	// overhead reach: from 0.96 m to 1.99 m
	// her finger tips at 2.16 m
}
