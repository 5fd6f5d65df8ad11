package chain_test

import (
	"fmt"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// A knee that bends by 70 degrees about X, with a twist of the shin that a knee
// hardly has.
func ExampleHinge_Measure() {
	shin, across := r3.Vec{Y: -1}, r3.Vec{X: 1}
	knee, err := chain.NewHinge(shin, across)
	if err != nil {
		fmt.Println(err)
		return
	}
	a := knee.Measure(quat.Mul(twist.About(across, 70*degree), twist.About(shin, 12*degree)))
	fmt.Printf("flexion %.0f, side-bend %.0f, twist %.0f, defined %t\n", a.Flexion/degree, a.SideBend/degree, a.Twist/degree, a.Defined)
	// Output: flexion 70, side-bend 0, twist 12, defined true
}

// Of the axis only the part across the bone counts, and there has to be enough of it.
func ExampleNewHinge() {
	shin := r3.Vec{Y: -1}
	knee, err := chain.NewHinge(shin, r3.Vec{X: 1, Y: 0.2})
	fmt.Println(knee.Axis(), knee.Bone(), err)

	_, err = chain.NewHinge(shin, r3.Vec{X: 0.1, Y: 1})
	fmt.Println(err)
	// Output:
	// {1 0 0} {0 -1 0} <nil>
	// chain: hinge: axis is 5.7 degrees from the bone, expected 45 or more
}

func ExampleHinge_Rotation() {
	knee, err := chain.NewHinge(r3.Vec{Y: -1}, r3.Vec{X: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f\n", knee.Rotation(90*degree, 0, 0))
	// Output: (0.707+0.707i+0.000j+0.000k)
}

// Wren stands with her elbow bent by 20 degrees: that tells its axis.
func ExampleHingeFromRest() {
	upperArm, forearm := r3.Vec{X: 1}, r3.Rotate(r3.Vec{X: 1}, 20*degree, r3.Vec{Y: -1})
	elbow, bend, err := chain.HingeFromRest(upperArm, forearm)
	fmt.Printf("axis %.2f, bend %.0f degrees, %v\n", elbow.Axis(), bend/degree, err)

	_, bend, err = chain.HingeFromRest(upperArm, upperArm) // straight
	fmt.Printf("bend %.0f degrees: %v\n", bend/degree, err)
	// Output:
	// axis {0.00 -1.00 0.00}, bend 20 degrees, <nil>
	// bend 0 degrees: chain: hinge: the bones are bent by 0.0 degrees at rest, expected 15 to 165
}

// A straight leg tells no axis, but what it does in a clip may.
func ExampleHingeFromTurns() {
	shin := r3.Vec{Y: -1}
	var clip []quat.Number
	for _, flexion := range []float64{0, 15, 40, 70} {
		clip = append(clip, twist.About(r3.Vec{X: 2, Z: 0.2}, flexion*degree))
	}
	knee, fit, err := chain.HingeFromTurns(shin, clip)
	fmt.Printf("axis %.3f, residual %.1f, largest %.0f degrees, %v\n", knee.Axis(), fit.Residual/degree, fit.Largest/degree, err)
	// Output: axis {0.995 0.000 0.100}, residual 0.0, largest 70 degrees, <nil>
}

// With neither bend nor clip one can still say which way the joint goes: a knee
// backwards.
func ExampleHingeTowards() {
	knee, err := chain.HingeTowards(r3.Vec{Y: -1}, r3.Vec{Z: -1})
	fmt.Printf("%.0f %v\n", knee.Axis(), err)
	// Output: {1 0 0} <nil>
}
