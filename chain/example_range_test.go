package chain_test

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/spatial/r3"
)

// The range of Wren's left hip, and how far beyond it a high step goes.
func ExampleHip() {
	hip := chain.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})
	fmt.Printf("flexion %.0f to %.0f degrees\n", hip.Flexion[0]/degree, hip.Flexion[1]/degree)

	ahead := hip.Direction(90*degree, 0)
	fmt.Printf("knee %.2f ahead, beyond by %.0f degrees\n", ahead.Z, hip.Beyond(ahead)/degree)
	high := hip.Direction(140*degree, 0)
	fmt.Printf("knee %.2f up, beyond by %.0f degrees\n", high.Y, hip.Beyond(high)/degree)
	// Output:
	// flexion -30 to 120 degrees
	// knee 1.00 ahead, beyond by 0 degrees
	// knee 0.77 up, beyond by 20 degrees
}

// Angles that a shoulder's range tells of a direction, and the range as a region of
// directions.
func ExampleShoulder() {
	shoulder := chain.Shoulder(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})
	flexion, abduction := shoulder.Angles(r3.Vec{Y: 1, Z: 1}) // ahead and overhead
	fmt.Printf("%.0f %.0f\n", flexion/degree, abduction/degree)

	region, err := shoulder.Region()
	fmt.Printf("%.2f of all directions, %v\n", region.Area()/(4*math.Pi), err)
	// Output:
	// 135 0
	// 0.50 of all directions, <nil>
}

// A stiff hip's range, from no table. Of all single centres its middle gives swings
// the lowest worst roll.
func ExampleRange_Middle() {
	stiff := chain.Range{
		Flexion: [2]float64{0, 60 * degree}, Abduction: [2]float64{-10 * degree, 10 * degree},
		Down: r3.Vec{Y: -1}, Forward: r3.Vec{Z: 1}, Out: r3.Vec{X: 1},
	}
	flexion, abduction := stiff.Angles(stiff.Middle())
	fmt.Printf("%.0f %.0f\n", flexion/degree, abduction/degree)
	// Output: 30 0
}

// A wrist's directions are the hand's: Wren's left hand, held out to the side with
// its palm down, has its thumb ahead.
func ExampleWrist() {
	wrist := chain.Wrist(r3.Vec{X: 1}, r3.Vec{Y: -1}, r3.Vec{Z: 1})
	flexion, abduction := wrist.Angles(r3.Vec{X: 1, Y: 1})
	fmt.Printf("%.0f %.0f\n", flexion/degree, abduction/degree) // extended: the back of the hand rises
	// Output: -45 0
}

// A limb without a range has the zero one.
func ExampleRange_IsZero() {
	shin, err := chain.NewSolver(chain.Limb{Name: "shin_l"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(shin.Range().IsZero())
	// Output: true
}
