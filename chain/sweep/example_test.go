package sweep_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/sweep"
	"gonum.org/v1/gonum/spatial/r3"
)

// Wren steps high: her left thigh goes ahead, out, and turns in.
func ExampleMotion_Pose() {
	hip := sweep.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})
	q := hip.Pose(90*degree, 20*degree, 10*degree)
	flexion, abduction, rotation, determined := hip.AnglesOf(q)
	fmt.Printf("%.0f %.0f %.0f %t\n", flexion/degree, abduction/degree, rotation/degree, determined)
	// Output: 90 20 10 true
}

// How much a shortest arc rolls, over a coarse grid of a hip's range: most where
// the thigh is farthest from hanging.
func ExampleMotion_Map() {
	hip := sweep.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})
	thigh, err := chain.NewSolver(chain.Limb{Axis: hip.Down, Field: chain.Plain})
	if err != nil {
		fmt.Println(err)
		return
	}
	swings, err := sweep.NewSwings(thigh)
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := hip.Map(10*degree, func(flexion, abduction float64) float64 {
		return swings.Rate(hip.Direction(flexion, abduction))
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f at a flexion of %.0f degrees\n", m.Worst, m.WorstAt.Flexion/degree)
	// Output: 1.73 at a flexion of 120 degrees
}

// The shortest arc rolls tan(60/2) radians a radian at 60 degrees from rest.
func ExampleSwings_Rate() {
	thigh, err := chain.NewSolver(chain.Limb{Axis: r3.Vec{Y: -1}, Field: chain.Plain})
	if err != nil {
		fmt.Println(err)
		return
	}
	swings, err := sweep.NewSwings(thigh)
	if err != nil {
		fmt.Println(err)
		return
	}
	sin, cos := math.Sincos(60 * degree)
	fmt.Printf("%.4f\n", swings.Rate(r3.Vec{Y: -cos, Z: sin}))
	fmt.Printf("%.0f\n", swings.Singular().Y) // straight up, to which there is no shortest arc
	// Output:
	// 0.5774
	// 1
}

// A hanging arm that swings by shortest arcs jumps where it reaches overhead. The
// field that a shoulder's range gives by default does not.
func ExampleFlips() {
	shoulder := sweep.Shoulder(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})
	for _, field := range []chain.Field{chain.Plain, chain.AnyField} {
		arm, err := chain.NewSolver(chain.Limb{Axis: shoulder.Down, Segments: 3, Field: field, Range: shoulder.Range})
		if err != nil {
			fmt.Println(err)
			return
		}
		flips, err := sweep.Flips(arm, shoulder, 0, 5*degree)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Print(len(flips) > 0, " ")
	}
	// Output: true false
}

// The ISB's joint angles of a right hip: flexion, adduction, internal rotation.
func ExampleGroodSuntay() {
	q := sweep.FromGroodSuntay(60*degree, -15*degree, 5*degree)
	alpha, beta, gamma, determined := sweep.GroodSuntay(q)
	fmt.Printf("%.0f %.0f %.0f %t\n", alpha/degree, beta/degree, gamma/degree, determined)
	// Output: 60 -15 5 true
}

// An arm lifted straight ahead, and one that hangs: of that only the sum of its two
// turns shows.
func ExamplePlaneElevation() {
	ahead := sweep.FromPlaneElevation(90*degree, -90*degree, 20*degree)
	plane, elevation, axial, determined := sweep.PlaneElevation(ahead)
	fmt.Printf("%.0f %.0f %.0f %t\n", plane/degree, elevation/degree, axial/degree, determined)

	hanging := sweep.FromPlaneElevation(90*degree, 0, 20*degree)
	plane, _, axial, determined = sweep.PlaneElevation(hanging)
	fmt.Printf("%.0f %.0f %t\n", plane/degree, axial/degree, determined)
	// Output:
	// 90 -90 20 true
	// 110 0 false
}

// A thigh that goes 60 degrees ahead, as the ISB's axes tell it: X ahead, Y up, Z to
// the right.
func ExampleMotion_ToISB() {
	hip := sweep.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: -1}) // a right hip of a body that faces +Z
	q := hip.ToISB(hip.Pose(60*degree, 0, 0))
	fmt.Printf("about Z: %.3f\n", q.Kmag)
	alpha, _, _, _ := sweep.GroodSuntay(q)
	fmt.Printf("flexion %.0f\n", alpha/degree)
	// Output:
	// about Z: 0.500
	// flexion 60
}
