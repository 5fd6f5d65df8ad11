package rest

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl32"
	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func matrixAndBack(t *rapid.T) {
	f := genFrame().Draw(t, "f")
	got, err := FrameFromMat4(f.Mat4())
	require.NoError(t, err)
	require.Equal(t, f.Position, got.Position)
	require.Less(t, angleBetween(f.Unit(), got.Rotation), 2*MaxNearestError)

	var wide mgl64.Mat4
	for i, e := range f.Mat4f() {
		wide[i] = float64(e)
	}
	got, err = FrameFromMat4(wide)
	require.NoError(t, err, "a float32 matrix is rigid enough")
	require.Less(t, angleBetween(f.Unit(), got.Rotation), 1e-6)
}

func TestMatrixAndBack(t *testing.T) { rapid.Check(t, matrixAndBack) }
func FuzzMatrixAndBack(f *testing.F) { f.Fuzz(rapid.MakeFuzz(matrixAndBack)) }

func TestFrameFromMat4Errors(t *testing.T) {
	tests := []struct {
		name string
		m    mgl64.Mat4
		want string
	}{
		{"scale", mgl64.Scale3D(1, 2, 1), "rest: matrix row 1, column 1 is 2, expected 1: not a rotation"},
		{"reflection", mgl64.Scale3D(1, 1, -1), "rest: matrix row 2, column 2 is -1, expected 1: not a rotation"},
		{"zero", mgl64.Mat4{15: 1}, "rest: matrix row 0, column 0 is 0, expected 1: not a rotation"},
		{"fourth row", mgl64.Mat4{0: 1, 5: 1, 10: 1, 7: 0.5, 15: 1}, "rest: matrix row 3, column 1 is 0.5, expected 0"},
		{"NaN", mgl64.Mat4{0: 1, 5: 1, 10: 1, 13: math.NaN(), 15: 1}, "rest: matrix row 1, column 3 is NaN, expected a finite number"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := FrameFromMat4(test.m)
			require.EqualError(t, err, test.want)
		})
	}
}

func TestQuatConversions(t *testing.T) {
	q := quat.Number{Real: 1, Imag: -2, Jmag: 3, Kmag: -4}
	m := QuatToMgl64(q)
	require.Equal(t, mgl64.Quat{W: 1, V: mgl64.Vec3{-2, 3, -4}}, m)
	require.Equal(t, q, QuatFromMgl64(m), "taken over as it is")

	u := unit(q)
	back := QuatFromMgl32(QuatToMgl32(q))
	require.InDelta(t, 1, quat.Abs(back), 2*eps, "float32 rotations come back unit")
	requireQuat(t, u, back, 0x1p-24)
	require.Equal(t, quat.Number{Real: 1}, QuatFromMgl32(mgl32.Quat{}))
	require.Equal(t, mgl32.Quat{W: 1}, QuatToMgl32(quat.Number{}))
	require.True(t, math.IsNaN(QuatFromMgl32(mgl32.Quat{W: float32(math.Inf(1))}).Real))
}

func TestVecConversions(t *testing.T) {
	v := r3.Vec{X: 0.1, Y: -2, Z: 1e300}
	require.Equal(t, v, VecFromMgl64(VecToMgl64(v)))
	f := VecToMgl32(v)
	require.Equal(t, mgl32.Vec3{0.1, -2, float32(math.Inf(1))}, f)
	require.Equal(t, r3.Vec{X: float64(float32(0.1)), Y: -2, Z: math.Inf(1)}, VecFromMgl32(f))
}

// Second opinion on the matrix's rotation, away from where mathgl's method
// switches branches.
func TestMatrixAgreesWithMathgl(t *testing.T) {
	f := Frame{Rotation: turn(r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3}), 0.7)}
	requireQuat(t, f.Rotation, QuatFromMgl64(mgl64.Mat4ToQuat(f.Mat4())), 8*eps)
}
