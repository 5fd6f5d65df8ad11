package rest

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// frameTolerance is for chains of up to four products and turned points with
// coordinates up to 1e3 a few times over: 1e3 * 100 eps.
const frameTolerance = 1e5 * eps

func TestUnit(t *testing.T) {
	half := math.Sqrt(0.5)
	tests := []struct {
		name     string
		rotation quat.Number
		want     quat.Number
	}{
		{"zero is the identity", quat.Number{}, quat.Number{Real: 1}},
		{"identity", quat.Number{Real: 1}, quat.Number{Real: 1}},
		{"its negative stays", quat.Number{Real: -1}, quat.Number{Real: -1}},
		{"half turn", quat.Number{Jmag: 3}, quat.Number{Jmag: 1}},
		{"long", quat.Number{Real: 3, Kmag: 3}, quat.Number{Real: half, Kmag: half}},
		{"square overflows", quat.Number{Real: 1e300, Kmag: -1e300}, quat.Number{Real: half, Kmag: -half}},
		{"square underflows", quat.Number{Real: -1e-300, Imag: 1e-300}, quat.Number{Real: -half, Imag: half}},
		{"subnormal", quat.Number{Imag: 5e-324, Jmag: 5e-324}, quat.Number{Imag: half, Jmag: half}},
		{"largest", quat.Number{Imag: math.MaxFloat64}, quat.Number{Imag: 1}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			requireQuat(t, test.want, Frame{Rotation: test.rotation}.Unit(), 2*eps)
		})
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		got := Frame{Rotation: quat.Number{Real: 1, Jmag: bad}}.Unit()
		require.True(t, math.IsNaN(got.Real) && math.IsNaN(got.Imag) && math.IsNaN(got.Jmag) && math.IsNaN(got.Kmag), "%v", bad)
	}
}

// A third of a turn about (1,1,1) sends x to y to z to x, and a quarter turn
// about x followed by one about y has four components of one half (Hamilton
// 1843; Rodrigues 1840).
func TestFramePointPublished(t *testing.T) {
	third := Frame{Rotation: quat.Number{Real: 1, Imag: 1, Jmag: 1, Kmag: 1}}
	requireVec(t, r3.Vec{X: 3, Y: 1, Z: 2}, third.Point(r3.Vec{X: 1, Y: 2, Z: 3}), 16*eps)

	x := Frame{Rotation: turn(r3.Vec{X: 1}, math.Pi/2)}
	y := Frame{Rotation: turn(r3.Vec{Y: 1}, math.Pi/2)}
	requireQuat(t, quat.Number{Real: 0.5, Imag: 0.5, Jmag: 0.5, Kmag: -0.5}, y.Mul(x).Rotation, 4*eps)
}

func TestFrameMulOrder(t *testing.T) {
	parent := Frame{Position: r3.Vec{Y: 1}, Rotation: turn(r3.Vec{Z: 1}, math.Pi/2)}
	child := Frame{Position: r3.Vec{X: 2}}
	requireVec(t, r3.Vec{Y: 3}, parent.Mul(child).Position, 4*eps, "the child's place is turned by its parent")
	requireVec(t, r3.Vec{X: 2, Y: 1}, child.Mul(parent).Position, 4*eps)
}

func frameLaws(t *rapid.T) {
	f, g, h := genFrame().Draw(t, "f"), genFrame().Draw(t, "g"), genFrame().Draw(t, "h")
	p := genVec().Draw(t, "p")

	requireVec(t, f.Point(g.Point(p)), f.Mul(g).Point(p), frameTolerance, "product")
	requireVec(t, f.Mul(g).Mul(h).Point(p), f.Mul(g.Mul(h)).Point(p), frameTolerance, "associative")
	requireVec(t, p, f.Inverse().Point(f.Point(p)), frameTolerance, "inverse")
	requireVec(t, p, f.Mul(f.Inverse()).Point(p), frameTolerance, "inverse on the right")
	requireVec(t, r3.Sub(f.Point(p), f.Position), f.Direction(p), frameTolerance, "directions do not move")
	require.InDelta(t, r3.Norm(p), r3.Norm(f.Direction(p)), frameTolerance, "lengths stay")
	negative := f
	negative.Rotation = quat.Scale(-1, f.Rotation)
	requireVec(t, f.Point(p), negative.Point(p), 0, "q and -q")
	require.Equal(t, p, Frame{}.Point(p), "the zero frame is the identity")

	n := f.Mul(g).Rotation
	require.InDelta(t, 1, quat.Abs(n), 8*eps, "products stay unit")
}

func TestFrameLaws(t *testing.T) { rapid.Check(t, frameLaws) }
func FuzzFrameLaws(f *testing.F) { f.Fuzz(rapid.MakeFuzz(frameLaws)) }

// Second opinion: mathgl's 4x4 matrices.
func frameAgreesWithMathgl(t *rapid.T) {
	f, g, p := genFrame().Draw(t, "f"), genFrame().Draw(t, "g"), genVec().Draw(t, "p")
	matrix := func(f Frame) mgl64.Mat4 {
		return mgl64.Translate3D(f.Position.X, f.Position.Y, f.Position.Z).Mul4(QuatToMgl64(f.Unit()).Mat4())
	}
	want := VecFromMgl64(mgl64.TransformCoordinate(VecToMgl64(p), matrix(f).Mul4(matrix(g))))
	requireVec(t, want, f.Mul(g).Point(p), frameTolerance)
	for i, e := range matrix(f) {
		require.InDelta(t, e, f.Mat4()[i], 16*eps)
	}
}

func TestFrameAgreesWithMathgl(t *testing.T) { rapid.Check(t, frameAgreesWithMathgl) }
func FuzzFrameAgreesWithMathgl(f *testing.F) { f.Fuzz(rapid.MakeFuzz(frameAgreesWithMathgl)) }

func TestFrameNaN(t *testing.T) {
	f := Frame{Rotation: quat.Number{Real: math.NaN()}}
	require.True(t, math.IsNaN(f.Point(r3.Vec{X: 1}).X))
	require.True(t, math.IsNaN(f.Mul(Frame{}).Rotation.Real))
	require.True(t, math.IsNaN(f.Inverse().Rotation.Real))
	require.True(t, math.IsNaN(f.Mat4()[0]))
}

func TestFrameAllocatesNothing(t *testing.T) {
	f := Frame{Position: r3.Vec{X: 1}, Rotation: turn(r3.Vec{Y: 1}, 1)}
	var sink Frame
	require.Zero(t, testing.AllocsPerRun(100, func() {
		sink = f.Mul(f.Inverse())
		sink.Position = f.Point(sink.Position)
		sink = Follow(f, Offset(f, sink))
		sink = AcrossX.Frame(sink)
		_ = sink.Mat4f()
	}))
}

func BenchmarkFrameMul(b *testing.B) {
	f := Frame{Position: r3.Vec{X: 1, Y: 2, Z: 3}, Rotation: turn(r3.Vec{Y: 1}, 1)}
	b.ReportAllocs()
	for b.Loop() {
		f = f.Mul(f)
		f.Position = r3.Vec{X: 1}
	}
}
