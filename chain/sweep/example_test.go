package sweep_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/sweep"
	"gonum.org/v1/gonum/spatial/r3"
)

// The four fields over a hip's range: rolls in radians a radian of motion.
func ExampleCompare() {
	hip := sweep.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})
	c, err := sweep.Compare(hip, sweep.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range []struct {
		name string
		sweep.Figures
	}{{"shortest", c.Shortest}, {"centred", c.Centred}, {"least_roll", c.LeastRoll}, {"balanced", c.Balanced}} {
		fmt.Printf("%-10s worst %.2f  rms %.2f  flips %d\n", f.name, f.Worst, f.RMS, len(f.Flips))
	}
	// Output:
	// shortest   worst 1.73  rms 0.73  flips 0
	// centred    worst 0.81  rms 0.45  flips 0
	// least_roll worst 0.72  rms 0.33  flips 0
	// balanced   worst 1.52  rms 0.61  flips 0
}

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
	thigh, err := chain.NewSolver(chain.Limb{Axis: hip.Down, Field: chain.Shortest})
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
	fmt.Printf("%d by %d places, %.2f at the first\n", len(m.Flexion), len(m.Abduction), m.At(0, 0))
	// Output:
	// 1.73 at a flexion of 120 degrees
	// 16 by 9 places, 0.38 at the first
}

// The shortest arc rolls tan(60/2) radians a radian at 60 degrees from rest.
func ExampleSwings_Rate() {
	thigh, err := chain.NewSolver(chain.Limb{Axis: r3.Vec{Y: -1}, Field: chain.Shortest})
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
	for _, field := range []chain.Field{chain.Shortest, chain.AnyField} {
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

// How far a hip, a shoulder and a wrist turn about their bones, besides where those
// point.
func ExampleHip() {
	down, forward, out := r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1}
	for _, m := range []sweep.Motion{sweep.Hip(down, forward, out), sweep.Shoulder(down, forward, out), sweep.Wrist(down, forward, out)} {
		fmt.Printf("flexion %.0f to %.0f, rotation %.0f to %.0f\n", m.Flexion[0]/degree, m.Flexion[1]/degree, m.Rotation[0]/degree, m.Rotation[1]/degree)
	}
	// Output:
	// flexion -30 to 120, rotation -45 to 45
	// flexion -60 to 180, rotation -90 to 70
	// flexion -70 to 80, rotation 0 to 0
}

// The same leg movement on either side: a left limb is a right one in the mirror.
func ExampleMotion_GroodSuntay() {
	for _, out := range []r3.Vec{{X: -1}, {X: 1}} { // right, left
		hip := sweep.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, out)
		alpha, beta, gamma := hip.GroodSuntay(60*degree, 15*degree, 5*degree)
		fmt.Printf("%.0f %.0f %.0f\n", alpha/degree, beta/degree, gamma/degree)
		q := sweep.FromGroodSuntay(alpha, beta, gamma)
		flexion, abduction, rotation, _ := hip.AnglesOf(hip.FromISB(q))
		fmt.Printf("back: %.0f %.0f %.0f\n", flexion/degree, abduction/degree, rotation/degree)
	}
	// Output:
	// 60 -15 5
	// back: 60 15 5
	// 60 15 -5
	// back: 60 15 5
}

// The roll's vector tells which way a limb rolls: one that points ahead rolls when it
// moves sideways and not when it moves up or down.
func ExampleSwings_Roll() {
	thigh, err := chain.NewSolver(chain.Limb{Axis: r3.Vec{Y: -1}, Field: chain.Shortest})
	if err != nil {
		fmt.Println(err)
		return
	}
	swings, err := sweep.NewSwings(thigh)
	if err != nil {
		fmt.Println(err)
		return
	}
	ahead, left := r3.Vec{Z: 1}, r3.Vec{X: 1}
	roll, defined := swings.Roll(ahead)
	fmt.Printf("sideways %.2f, %t\n", r3.Dot(roll, left), defined)

	aside := r3.Unit(r3.Vec{X: 0.01, Z: 1})
	between, _ := swings.Between(ahead, aside)
	fmt.Printf("over 0.01: %.4f\n", between)
	s, _ := swings.At(ahead)
	fmt.Printf("%.3f\n", s)
	// Output:
	// sideways 1.00, true
	// over 0.01: 0.0100
	// (0.707-0.707i+0.000j+0.000k)
}

// A field of swings winds twice about the one direction that it has no swing to.
func ExampleSwings_Winding() {
	thigh, err := chain.NewSolver(chain.Limb{Axis: r3.Vec{Y: -1}, Field: chain.Shortest})
	if err != nil {
		fmt.Println(err)
		return
	}
	swings, err := sweep.NewSwings(thigh)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(swings.Winding(r3.Vec{Z: 1}), swings.Winding(swings.Singular()))
	// Output: 0 2
}
