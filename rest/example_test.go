package rest_test

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl32"
	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/spatial/r3"
)

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

// A rigid matrix is read as it is; one that scales is refused, and Anchor reads it.
func ExampleFrameFromMat4() {
	frame, err := rest.FrameFromMat4(mgl64.Translate3D(0, 0.9, 0))
	fmt.Printf("%.1f %.0f %v\n", frame.Position, frame.Rotation.Real, err)

	_, err = rest.FrameFromMat4(mgl64.Scale3D(1, 2, 1))
	fmt.Println(err)
	// Output:
	// {0.0 0.9 0.0} 1 <nil>
	// rest: matrix row 1, column 1 is 2, expected 1: not a rotation
}

// An engine's float32 rotation, whose length is off by rounding, and back.
func ExampleQuatFromMgl32() {
	q := rest.QuatFromMgl32(mgl32.Quat{W: 0.7071, V: mgl32.Vec3{0.7071, 0, 0}})
	fmt.Printf("%.6f %.6f\n", q.Real, q.Imag)
	fmt.Println(rest.QuatToMgl32(q).W)
	// Output:
	// 0.707107 0.707107
	// 0.70710677
}
