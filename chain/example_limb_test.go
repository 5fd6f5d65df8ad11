package chain_test

import (
	"fmt"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// A thigh and a forearm, and what is left of their twists along the bone: a thigh
// ramps its own, a forearm the hand's.
func Example() {
	down, ahead, left := r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1}
	for _, limb := range []chain.Limb{
		{Name: "thigh_l", Axis: down, Segments: 3, Range: chain.Hip(down, ahead, left)},
		{Name: "forearm_l", Axis: left, Segments: 3, Twist: chain.Tip},
	} {
		solver, err := chain.NewSolver(limb)
		if err != nil {
			fmt.Println(err)
			return
		}
		segments := make([]quat.Number, solver.Segments())
		turned := twist.About(limb.Axis, 60*degree) // from rest
		solver.SolveFromRest(segments, turned, turned)
		fmt.Print(limb.Name)
		for _, s := range segments {
			angle, _ := twist.Angle(s, limb.Axis)
			fmt.Printf(" %.0f", angle/degree)
		}
		fmt.Println()
	}
	// Output:
	// thigh_l 0 30 60
	// forearm_l 60 90 120
}

// Shares of one's own, and a centre in front instead of a range: the segments twist
// late, and the swing goes by way of straight ahead.
func ExampleLimb() {
	arm, err := chain.NewSolver(chain.Limb{
		Name:   "upperarm_l",
		Axis:   r3.Vec{Y: -1},
		Shares: []float64{0, 0.125, 0.5, 1},
		Centre: chain.Centre{Mode: chain.Given, Direction: r3.Vec{Z: 2}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	own, _ := arm.Shares()
	fmt.Println(arm.Segments(), own, arm.Axis(), arm.Centre())
	// Output: 4 [0 0.125 0.5 1] {0 -1 0} {0 0 1}
}

// The swing that the segments share: what the joint does, less its own twist.
func ExampleSolver_Swing() {
	bone := r3.Vec{Y: -1}
	thigh, err := chain.NewSolver(chain.Limb{Name: "thigh_l", Axis: bone})
	if err != nil {
		fmt.Println(err)
		return
	}
	joint := quat.Mul(twist.About(r3.Vec{X: -1}, 90*degree), twist.About(bone, 60*degree))
	angles := make([]float64, thigh.Segments())
	result := thigh.Angles(angles, joint, quat.Number{})
	fmt.Printf("%.3f\n", thigh.Swing(joint, result))
	// Output: (0.707-0.707i+0.000j+0.000k)
}

// The three fields of swings that a thigh can bend by. Without a word it gets the
// best one, since its range is known.
func ExampleField() {
	down, ahead, left := r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1}
	for _, field := range []chain.Field{chain.Shortest, chain.Centred, chain.LeastRoll, chain.AnyField} {
		thigh, err := chain.NewSolver(chain.Limb{Name: "thigh_l", Axis: down, Field: field, Range: chain.Hip(down, ahead, left)})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(thigh.Centre() == thigh.Axis(), thigh.Field().IsCorrected())
	}
	// Output:
	// true false
	// false false
	// false true
	// false true
}
