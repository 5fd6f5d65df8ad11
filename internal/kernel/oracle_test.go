package kernel

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Against 256-bit arithmetic, by the law as the documentation states it.
func TestKernelAgainstBigFloats(t *testing.T) {
	t.Run("float64", func(t *testing.T) { testAgainstBigFloats[float64](t, MaxError64, 0x1p-52) })
	t.Run("float32", func(t *testing.T) { testAgainstBigFloats[float32](t, MaxError32, 0x1p-23) })
}

// What the solver is given is exact: the rotation and the axis, rounded to its
// precision.
func testAgainstBigFloats[F Real](t *testing.T, bound, eps float64) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	own := []float64{-1, -0.7, -1. / 3, 0, -1, 0}
	tip := []float64{0, 0, 0, 1, 0.25, 0.6}
	law := NewLaw[F](axis, own, tip, plainField(axis), plainField(axis))
	rounded := r3.Vec{X: float64(law.axis[0]), Y: float64(law.axis[1]), Z: float64(law.axis[2])}
	exactAxis := oracle.FromVec(rounded).Unit()
	joints, tips := poses(500), poses(1000)[500:]
	in, far, out := flat[F](joints), flat[F](tips), make([]F, 4*6*500)
	law.Batch(quads(out, 6), quads(in, 1), quads(far, 1), 500)
	var worst float64
	for i := range joints {
		q, p := number(in[4*i:]), number(far[4*i:])
		var one, other Twist[F]
		law.Split(&one, &other, (*[4]F)(in[4*i:]), (*[4]F)(far[4*i:]))
		angle := oracle.TwistAngle(oracle.FromQuat(q).Unit(), exactAxis)
		second := oracle.TwistAngle(oracle.FromQuat(p).Unit(), exactAxis)
		// The conditioning of the angles: Dobrowolski 2015.
		loose := MaxHalfError*eps/float64(one.Condition) + MaxHalfError*eps/float64(other.Condition)
		off := angle.Mul(oracle.Float(0.5)).Sub(oracle.Float(float64(one.Half))).Abs().Float64()
		require.LessOrEqual(t, off, MaxHalfError*eps/float64(one.Condition), "half twist of %v", q)
		for j := range own {
			a := angle.Mul(oracle.Float(float64(F(own[j])))).Add(second.Mul(oracle.Float(float64(F(tip[j])))))
			got := number(out[4*(6*i+j):])
			off := oracle.FromQuat(got).Off(oracle.About(exactAxis, a)).Float64()
			worst = max(worst, off/(bound+loose))
			require.LessOrEqual(t, off, bound+loose, "segment %d of %v", j, q)
			require.InDelta(t, 1, quat.Abs(got), bound)
			require.GreaterOrEqual(t, got.Real, 0.)
		}
	}
	t.Logf("worst %.2f of the bound", worst)
}

// On pure twists the conditioning is 1 and the bound is all there is.
func TestPureTwistsWithinTheBound(t *testing.T) {
	t.Run("float64", func(t *testing.T) { testPureTwists[float64](t, MaxError64) })
	t.Run("float32", func(t *testing.T) { testPureTwists[float32](t, MaxError32) })
}

func testPureTwists[F Real](t *testing.T, bound float64) {
	axis := r3.Vec{Y: 1} // exact in both
	law := NewLaw[F](axis, []float64{-1, -0.625, -0.25}, nil, plainField(axis), plainField(axis))
	const n = 401
	in, out := make([]F, 0, 4*n), make([]F, 4*3*n)
	for i := range n {
		sin, cos := math.Sincos(math.Pi / 2 * (float64(i)/(n/2) - 1))
		in = append(in, F(cos), 0, F(sin), 0)
	}
	law.Batch(quads(out, 3), quads(in, 1), nil, n)
	var worst float64
	for i := range n {
		angle := oracle.TwistAngle(oracle.FromQuat(number(in[4*i:])).Unit(), oracle.FromVec(axis))
		for j, k := range []float64{-1, -0.625, -0.25} {
			want := oracle.About(oracle.FromVec(axis), angle.Mul(oracle.Float(k)))
			off := oracle.FromQuat(number(out[4*(3*i+j):])).Off(want).Float64()
			worst = max(worst, off)
			require.LessOrEqual(t, off, bound, "segment %d of twist %v", j, angle.Float64())
		}
	}
	t.Logf("worst %.3g, bound %.3g", worst, bound)
}

func number[F Real](q []F) quat.Number {
	return quat.Number{Real: float64(q[0]), Imag: float64(q[1]), Jmag: float64(q[2]), Kmag: float64(q[3])}
}
