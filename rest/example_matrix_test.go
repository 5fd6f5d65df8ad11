package rest_test

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl32"
	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

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

// A follower under a squashed pelvis keeps its shape.
func ExampleAnchor() {
	pelvis := mgl64.Translate3D(0, 0.9, 0).Mul4(mgl64.HomogRotate3DY(math.Pi / 2)).Mul4(mgl64.Scale3D(1.2, 0.8, 1.2))
	f, left := rest.Anchor(pelvis)
	fmt.Printf("%.1f %.3f dropped scale %.1f\n", f.Position, f.Rotation, left.Scale)
	// Output: {0.0 0.9 0.0} (0.707+0.000i+0.707j+0.000k) dropped scale {1.2 0.8 1.2}
}

// A joint scaled by (1, 2, 1) and then turned by 90 degrees about Z.
func ExampleNearest() {
	m := mgl64.Rotate3DZ(math.Pi / 2).Mul3(mgl64.Diag3(mgl64.Vec3{1, 2, 1}))
	q, left := rest.Nearest(m)
	fmt.Printf("%.3f scale %.1f shear %.1f reflected %v\n", q, left.Scale, left.Shear, left.Reflected)
	// Output: (0.707+0.000i+0.000j+0.707k) scale {1.0 2.0 1.0} shear 0.0 reflected false
}

// A frame as a matrix, printed row by row.
func ExampleFrame_Mat4() {
	thigh := rest.Frame{Position: r3.Vec{X: 0.1, Y: 0.9}, Rotation: quat.Number{Imag: 1}} // half a turn about X
	fmt.Print(thigh.Mat4())
	fmt.Println(thigh.Mat4f().At(1, 3)) // in float32
	// Output:
	// 1.000000  0.000000  0.000000 0.100000
	//  0.000000 -1.000000  0.000000 0.900000
	//  0.000000  0.000000 -1.000000 0.000000
	//  0.000000  0.000000  0.000000 1.000000
	// 0.9
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

// Double precision passes both ways as it is.
func ExampleQuatFromMgl64() {
	q := rest.QuatFromMgl64(mgl64.QuatIdent())
	fmt.Println(q, rest.QuatToMgl64(q) == mgl64.QuatIdent())
	// Output: (1+0i+0j+0k) true
}

// Vectors in either precision. Rounding to float32 is the one step that loses.
func ExampleVecToMgl32() {
	v := r3.Vec{X: 0.1, Y: 0.9}
	fmt.Println(rest.VecFromMgl64(rest.VecToMgl64(v)) == v)
	fmt.Println(rest.VecFromMgl32(rest.VecToMgl32(v)).X)
	// Output:
	// true
	// 0.10000000149011612
}
