package rest_test

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Joints as a file's matrices have them: a pelvis that is scaled, and a thigh that
// hangs on it. The thigh's place in the pelvis' frame is taken at rest; it follows.
func Example() {
	pelvis, dropped := rest.Anchor(mgl64.Translate3D(0, 0.9, 0).Mul4(mgl64.Scale3D(1, 2, 1)))
	fmt.Println("scale", dropped.Scale)
	thigh, err := rest.FrameFromMat4(mgl64.Translate3D(0.1, 0.85, 0))
	if err != nil {
		fmt.Println(err)
		return
	}
	axis, length, err := rest.LongAxis(thigh, r3.Vec{X: 0.1, Y: 0.45})
	fmt.Printf("points along %.0f for %.2f m, %v\n", axis, length, err)

	offset := rest.Offset(pelvis, thigh)
	pelvis.Position.Z += 1
	fmt.Printf("%.2f\n", rest.Follow(pelvis, offset).Position)
	// Output:
	// scale {1 2 1}
	// points along {0 -1 0} for 0.40 m, <nil>
	// {0.10 0.85 1.00}
}

// A thigh whose axes have nothing to do with its pelvis', hung on it.
func ExampleFollow() {
	pelvis := rest.Frame{Position: r3.Vec{Y: 0.9}}
	thigh := rest.Frame{Position: r3.Vec{X: 0.1, Y: 0.8}, Rotation: quat.Number{Imag: 1}} // a half turn about x
	offset := rest.Offset(pelvis, thigh)

	atRest := rest.Follow(pelvis, offset)
	fmt.Printf("at rest: %.2f %.2f\n", atRest.Position, atRest.Rotation)

	pelvis.Position.Y += 0.2
	fmt.Printf("lifted:  %.2f\n", rest.Follow(pelvis, offset).Position)
	// Output:
	// at rest: {0.10 0.80 0.00} (0.00+1.00i+0.00j+0.00k)
	// lifted:  {0.10 1.00 0.00}
}

// Wren's shin hangs 40 cm below her thigh, which points ahead.
func ExampleFrame_Mul() {
	thigh := rest.Frame{
		Position: r3.Vec{X: 0.1, Y: 0.9},
		Rotation: twist.About(r3.Vec{X: -1}, math.Pi/2),
	}
	shin := rest.Frame{Position: r3.Vec{Y: -0.4}} // in the thigh's frame
	world := thigh.Mul(shin)
	fmt.Printf("%.2f m up, %.2f m ahead\n", world.Position.Y, world.Position.Z)

	// Inverse leads back.
	back := thigh.Inverse().Mul(world)
	fmt.Printf("%.2f\n", back.Position.Y)
	// Output:
	// 0.90 m up, 0.40 m ahead
	// -0.40
}

// A turned thigh takes points and directions of its own frame to its parent's.
func ExampleFrame_Point() {
	thigh := rest.Frame{Position: r3.Vec{Y: 0.9}, Rotation: twist.About(r3.Vec{X: -1}, math.Pi/2)}
	knee := r3.Vec{Y: -0.4}
	fmt.Printf("knee %.1f, %.1f m ahead of the hip\n", thigh.Point(knee), thigh.Direction(knee).Z)
	// Output: knee {0.0 0.9 0.4}, 0.4 m ahead of the hip
}

// Rotations need not have length 1, and none at all is the identity.
func ExampleFrame_Unit() {
	fmt.Println(rest.Frame{Rotation: quat.Number{Real: -3, Kmag: 4}}.Unit(), rest.Frame{}.Unit())
	// Output: (-0.6+0i+0j+0.8k) (1+0i+0j+0k)
}

// Where a thigh points in its own frame, and how long it is.
func ExampleLongAxis() {
	thigh := rest.Frame{Position: r3.Vec{X: 0.1, Y: 0.9}, Rotation: quat.Number{Imag: 1}} // y points down
	axis, length, err := rest.LongAxis(thigh, r3.Vec{X: 0.1, Y: 0.45})
	fmt.Printf("%.2f %.2f %v\n", axis, length, err)
	// Output: {0.00 1.00 0.00} 0.45 <nil>
}

// A left thigh makes a right one.
func ExamplePlane_Frame() {
	left := rest.Frame{Position: r3.Vec{X: 0.1, Y: 0.9}, Rotation: quat.Number{Real: 0.8, Kmag: 0.6}}
	right := rest.AcrossX.Frame(left)
	fmt.Printf("%.1f %.1f\n", right.Position, right.Rotation)
	// Output: {-0.1 0.9 0.0} (0.8+0.0i-0.0j-0.6k)
}

// Seen in a mirror across X a turn about X goes on as it is, and one about Y runs
// the other way; a vector's X changes its sign.
func ExamplePlane_Rotation() {
	fmt.Println(rest.AcrossX.Rotation(quat.Number{Real: 0.8, Imag: 0.6}))
	fmt.Println(rest.AcrossX.Rotation(quat.Number{Real: 0.8, Jmag: 0.6}))
	fmt.Println(rest.AcrossX.Vec(r3.Vec{X: 1, Y: 2, Z: 3}))
	// Output:
	// (0.8+0.6i-0j-0k)
	// (0.8+0i-0.6j-0k)
	// {-1 2 3}
}
