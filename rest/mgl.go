package rest

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl32"
	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// MaxRigidError is how far a matrix may be from a rigid one and still be read
// by [FrameFromMat4]: in the linear part, entry by entry, and in the fourth row.
// Matrices kept in float32 and multiplied down a deep hierarchy stay within it.
const MaxRigidError = 1e-4

// FrameFromMat4 reads a rigid matrix. It is an error if the matrix scales,
// shears, reflects, projects or is not finite, by more than [MaxRigidError]; for
// matrices that may, use [Anchor].
func FrameFromMat4(m mgl64.Mat4) (Frame, error) {
	for i, e := range m {
		if math.IsNaN(e) || math.IsInf(e, 0) {
			return Frame{}, fmt.Errorf("rest: matrix row %d, column %d is %v, expected a finite number", i%4, i/4, e)
		}
	}
	for column, want := range [4]float64{0, 0, 0, 1} {
		if got := m[4*column+3]; !(math.Abs(got-want) <= MaxRigidError) {
			return Frame{}, fmt.Errorf("rest: matrix row 3, column %d is %v, expected %v", column, got, want)
		}
	}
	f, _ := Anchor(m)
	r := mat3(f.Rotation)
	for column := range 3 {
		for row := range 3 {
			got, want := m[4*column+row], r[3*column+row]
			if !(math.Abs(got-want) <= MaxRigidError) {
				return Frame{}, fmt.Errorf("rest: matrix row %d, column %d is %v, expected %v: not a rotation", row, column, got, want)
			}
		}
	}
	return f, nil
}

// Mat4 is the frame as a matrix, entries right to 8 eps.
func (f Frame) Mat4() mgl64.Mat4 {
	r := mat3(f.Unit())
	return mgl64.Mat4{
		r[0], r[1], r[2], 0,
		r[3], r[4], r[5], 0,
		r[6], r[7], r[8], 0,
		f.Position.X, f.Position.Y, f.Position.Z, 1,
	}
}

// Mat4f is the frame as a float32 matrix: Mat4 rounded.
func (f Frame) Mat4f() mgl32.Mat4 {
	var out mgl32.Mat4
	for i, e := range f.Mat4() {
		out[i] = float32(e)
	}
	return out
}

// mat3 is the matrix of a unit quaternion.
func mat3(q quat.Number) mgl64.Mat3 {
	w, x, y, z := q.Real, q.Imag, q.Jmag, q.Kmag
	return mgl64.Mat3{
		1 - 2*(float64(y*y)+float64(z*z)), 2 * (float64(x*y) + float64(w*z)), 2 * (float64(x*z) - float64(w*y)),
		2 * (float64(x*y) - float64(w*z)), 1 - 2*(float64(x*x)+float64(z*z)), 2 * (float64(y*z) + float64(w*x)),
		2 * (float64(x*z) + float64(w*y)), 2 * (float64(y*z) - float64(w*x)), 1 - 2*(float64(x*x)+float64(y*y)),
	}
}

// QuatFromMgl64 takes a quaternion over as it is, component by component.
func QuatFromMgl64(q mgl64.Quat) quat.Number {
	return quat.Number{Real: q.W, Imag: q.V[0], Jmag: q.V[1], Kmag: q.V[2]}
}

// QuatToMgl64 hands a quaternion over as it is, component by component.
func QuatToMgl64(q quat.Number) mgl64.Quat {
	return mgl64.Quat{W: q.Real, V: mgl64.Vec3{q.Imag, q.Jmag, q.Kmag}}
}

// QuatFromMgl32 takes over a rotation kept in float32 and brings it back to
// unit length in float64: rounded to float32 it is off by up to 1e-7. Zero
// gives the identity, NaN or Inf gives NaN.
func QuatFromMgl32(q mgl32.Quat) quat.Number {
	return unit(quat.Number{Real: float64(q.W), Imag: float64(q.V[0]), Jmag: float64(q.V[1]), Kmag: float64(q.V[2])})
}

// QuatToMgl32 rounds a rotation to float32, at unit length. Zero gives the
// identity, NaN or Inf gives NaN.
func QuatToMgl32(q quat.Number) mgl32.Quat {
	q = unit(q)
	return mgl32.Quat{W: float32(q.Real), V: mgl32.Vec3{float32(q.Imag), float32(q.Jmag), float32(q.Kmag)}}
}

// VecFromMgl64 takes a vector over as it is.
func VecFromMgl64(v mgl64.Vec3) r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }

// VecToMgl64 hands a vector over as it is.
func VecToMgl64(v r3.Vec) mgl64.Vec3 { return mgl64.Vec3{v.X, v.Y, v.Z} }

// VecFromMgl32 widens a vector, exactly.
func VecFromMgl32(v mgl32.Vec3) r3.Vec {
	return r3.Vec{X: float64(v[0]), Y: float64(v[1]), Z: float64(v[2])}
}

// VecToMgl32 rounds a vector to float32; what is too large becomes Inf.
func VecToMgl32(v r3.Vec) mgl32.Vec3 {
	return mgl32.Vec3{float32(v.X), float32(v.Y), float32(v.Z)}
}
