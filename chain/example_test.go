package chain_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Wren's left thigh hangs along -Y of a joint whose axes are the world's, and is
// split into three. Her hip's range is known, so the best field is the default.
func ExampleNewSolver() {
	down, forward, left := r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1}
	thigh, err := chain.NewSolver(chain.Limb{
		Name:     "thigh_l",
		Axis:     down,
		Segments: 3,
		Range:    chain.Hip(down, forward, left),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	own, tip := thigh.Shares()
	fmt.Println(thigh.Segments(), own, tip, thigh.Field().IsCorrected())

	_, err = chain.NewSolver(chain.Limb{Name: "thigh_l", Segments: 1})
	fmt.Println(err)
	// Output:
	// 3 [0 0.5 1] [] true
	// chain: limb "thigh_l": segments is 1, expected 2 to 32
}

// Of a twist of 60 degrees the first segment takes off all, the last nothing:
// what is left is 0, 30 and 60 degrees from the hip to the knee.
func ExampleSolver_Solve() {
	bone := r3.Vec{Y: -1}
	thigh, err := chain.NewSolver(chain.Limb{Name: "thigh_l", Axis: bone, Segments: 3})
	if err != nil {
		fmt.Println(err)
		return
	}
	// Wren lifts her knee by 40 degrees and turns her leg.
	joint := quat.Mul(twist.About(r3.Vec{X: -1}, 40*degree), twist.About(bone, 60*degree))

	segments := make([]quat.Number, thigh.Segments())
	result := thigh.Solve(segments, joint, quat.Number{})
	fmt.Printf("twist %.0f degrees, condition %.2f\n", result.Twist/degree, result.Condition)
	for _, q := range segments {
		angle, _ := twist.Angle(q, bone)
		fmt.Printf("%.0f\n", angle/degree)
	}
	// Output:
	// twist 60 degrees, condition 0.94
	// -60
	// -30
	// 0
}

// A forearm keeps its own twist and ramps the hand's.
func ExampleSolver_Angles() {
	bone := r3.Vec{X: 1}
	forearm, err := chain.NewSolver(chain.Limb{Name: "forearm_l", Axis: bone, Segments: 4, Twist: chain.Tip})
	if err != nil {
		fmt.Println(err)
		return
	}
	elbow, hand := twist.About(r3.Vec{Y: -1}, 100*degree), twist.About(bone, 90*degree)

	angles := make([]float64, forearm.Segments())
	forearm.Angles(angles, elbow, hand)
	for _, a := range angles {
		fmt.Printf("%.0f ", a/degree)
	}
	// Output: 0 30 60 90
}

// As rotations from rest, the first segment has the swing and no twist.
func ExampleSolver_SolveFromRest() {
	bone := r3.Vec{Y: -1}
	thigh, err := chain.NewSolver(chain.Limb{Name: "thigh_l", Axis: bone})
	if err != nil {
		fmt.Println(err)
		return
	}
	swing := twist.About(r3.Vec{X: -1}, 90*degree)
	segments := make([]quat.Number, thigh.Segments())
	thigh.SolveFromRest(segments, quat.Mul(swing, twist.About(bone, 60*degree)), quat.Number{})
	fmt.Printf("swing   %.3f\n", swing)
	fmt.Printf("segment %.3f\n", segments[0])
	// Output:
	// swing   (0.707-0.707i+0.000j+0.000k)
	// segment (0.707-0.707i+0.000j+0.000k)
}

// A skeleton's joints have axes of their own. What counts is how the joint has
// moved against what it hangs on: where the whole body has walked to is no rotation.
func ExampleSolver_FromRest() {
	limb := chain.Limb{
		Name:       "thigh_l",
		Axis:       r3.Vec{Y: 1}, // the joint's own axis, which points down the leg
		AnchorRest: rest.Frame{Position: r3.Vec{Y: 0.9}},
		JointRest:  rest.Frame{Position: r3.Vec{X: 0.1, Y: 0.85}, Rotation: twist.About(r3.Vec{Z: 1}, math.Pi)},
	}
	thigh, err := chain.NewSolver(limb)
	if err != nil {
		fmt.Println(err)
		return
	}
	turned := rest.Frame{Position: r3.Vec{Z: 3}, Rotation: twist.About(r3.Vec{Y: 1}, 90*degree)}
	leg := rest.Frame{Rotation: twist.About(limb.Axis, 30*degree)}
	joint, _ := thigh.FromRest(chain.Pose{Anchor: turned.Mul(limb.AnchorRest), Joint: turned.Mul(limb.JointRest).Mul(leg)})
	moved, _ := twist.Angle(joint, thigh.Axis())
	fmt.Printf("%.1f degrees\n", moved/degree)
	// Output: 30.0 degrees
}

// Segments as frames in the world, for a renderer without a hierarchy.
func ExampleSolver_SolveWorld() {
	limb := chain.Limb{
		Name:      "thigh_l",
		Axis:      r3.Vec{Y: -1},
		Length:    0.42,
		Segments:  3,
		JointRest: rest.Frame{Position: r3.Vec{X: 0.1, Y: 0.9}},
	}
	thigh, err := chain.NewSolver(limb)
	if err != nil {
		fmt.Println(err)
		return
	}
	pose := chain.Pose{Anchor: limb.AnchorRest, Joint: limb.JointRest}
	pose.Joint.Rotation = twist.About(r3.Vec{X: -1}, 90*degree) // the knee comes up ahead

	segments := make([]rest.Frame, thigh.Segments())
	thigh.SolveWorld(segments, pose)
	for _, f := range segments {
		fmt.Printf("%.2f\n", f.Position)
	}
	// Output:
	// {0.10 0.90 0.00}
	// {0.10 0.90 0.14}
	// {0.10 0.90 0.28}
}
