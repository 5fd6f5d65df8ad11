package twist_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// A hand's rotation holds a twist about the forearm: measured, and shared out over
// four segments.
func Example() {
	forearm := r3.Vec{X: 1}
	hand := quat.Mul(twist.About(r3.Vec{Z: 1}, 0.7), twist.About(forearm, -75*math.Pi/180))
	angle, defined := twist.Angle(hand, forearm)
	fmt.Printf("%.0f degrees, %t\n", angle*180/math.Pi, defined)
	for _, share := range twist.Linear(4) {
		q := twist.About(forearm, share*angle)
		fmt.Printf("%.2f: %.3f\n", share, q.Real)
	}
	// Output:
	// -75 degrees, true
	// 0.00: 1.000
	// 0.33: 0.976
	// 0.67: 0.906
	// 1.00: 0.793
}

// A thigh that points down its y axis is lifted by 60 degrees about x and
// turned by 30 degrees about its own length.
func ExampleSplit() {
	bone := r3.Vec{Y: -1}
	lift := twist.About(r3.Vec{X: 1}, math.Pi/3)
	turn := twist.About(bone, math.Pi/6)
	parts, defined := twist.Split(quat.Mul(lift, turn), bone)
	fmt.Printf("swing %.3f\n", parts.Swing)
	fmt.Printf("twist %.3f\n", parts.Twist)
	fmt.Printf("condition %.3f, defined %t\n", parts.Condition, defined)
	// Output:
	// swing (0.866+0.500i+0.000j+0.000k)
	// twist (0.966+0.000i-0.259j+0.000k)
	// condition 0.866, defined true
}

// A swing of half a turn reaches every direction opposite the axis with every
// twist: there is none to measure.
func ExampleSplit_undefined() {
	parts, defined := twist.Split(quat.Number{Imag: 1}, r3.Vec{Y: 1})
	fmt.Println(parts.Twist, parts.Condition, defined)
	// Output: (1+0i+0j+0k) 0 false
}

// The other order: the joint turns about its parent's axis last.
func ExampleSplitSwingFirst() {
	q := quat.Mul(twist.About(r3.Vec{Z: 1}, math.Pi/2), twist.About(r3.Vec{X: 1}, math.Pi/2))
	parts, _ := twist.SplitSwingFirst(q, r3.Vec{Z: 1})
	fmt.Printf("twist %.3f\n", parts.Twist)
	fmt.Printf("swing %.3f\n", parts.Swing)
	// Output:
	// twist (0.707+0.000i+0.000j+0.707k)
	// swing (0.707+0.707i+0.000j+0.000k)
}

// The hand has bent and turned; only the turn belongs to the forearm.
func ExampleAngle() {
	forearm := r3.Vec{X: 1}
	bend := twist.About(r3.Vec{Z: 1}, 40*math.Pi/180)
	turn := twist.About(forearm, -75*math.Pi/180)
	angle, defined := twist.Angle(quat.Mul(bend, turn), forearm)
	fmt.Printf("%.1f degrees, %t\n", angle*180/math.Pi, defined)
	// Output: -75.0 degrees, true
}

// A third of a turn about the diagonal.
func ExampleAbout() {
	fmt.Printf("%.4f\n", twist.About(r3.Vec{X: 1, Y: 1, Z: 1}, 2*math.Pi/3))
	// Output: (0.5000+0.5000i+0.5000j+0.5000k)
}

// Half of a twist of 80 degrees, without the swing.
func ExamplePower() {
	bone := r3.Vec{Z: 1}
	q := quat.Mul(twist.About(r3.Vec{X: 1}, 1), twist.About(bone, 80*math.Pi/180))
	half, _ := twist.Power(q, bone, 0.5)
	angle, _ := twist.Angle(half, bone)
	fmt.Printf("%.1f degrees\n", angle*180/math.Pi)
	// Output: 40.0 degrees
}

// Five segments' shares, in equal steps.
func ExampleLinear() {
	fmt.Println(twist.Linear(5))
	// Output: [0 0.25 0.5 0.75 1]
}

// Five segments' shares, level at both ends.
func ExampleSmooth() {
	fmt.Println(twist.Smooth(5))
	// Output: [0 0.15625 0.5 0.84375 1]
}

// A list of one's own is told what is wrong with it.
func ExampleCheckShares() {
	fmt.Println(twist.CheckShares([]float64{0, 0.5, 1.5}, 3))
	// Output: shares[2] = 1.5, expected 0 to 1
}

// A twist that grows by 100 degrees a key, as single rotations report it.
func ExampleUnwrap() {
	var angles []float64
	for key := range 5 {
		q := twist.About(r3.Vec{Y: 1}, float64(key)*100*math.Pi/180)
		angle, _ := twist.Angle(q, r3.Vec{Y: 1})
		angles = append(angles, angle)
	}
	for i, angle := range twist.Unwrap(nil, angles) {
		fmt.Printf("%.0f -> %.0f\n", angles[i]*180/math.Pi, angle*180/math.Pi)
	}
	// Output:
	// 0 -> 0
	// 100 -> 100
	// -160 -> 200
	// -60 -> 300
	// 40 -> 400
}

// Angles as they come in, one at a time; NaN changes nothing.
func ExampleUnwrapper() {
	var u twist.Unwrapper
	for _, angle := range []float64{3, -3, math.NaN(), -2} {
		fmt.Printf("%.4f\n", u.Next(angle))
	}
	// Output:
	// 3.0000
	// 3.2832
	// NaN
	// 4.2832
}
