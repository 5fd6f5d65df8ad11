package kernel

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// directions are all over the place, of lengths from a half to two.
func directions(n int) []r3.Vec {
	random := rand.New(rand.NewPCG(5, 6))
	out := make([]r3.Vec, n)
	for i := range out {
		v := r3.Vec{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()}
		out[i] = r3.Scale((0.5+1.5*random.Float64())/r3.Norm(v), v)
	}
	return out
}

func flatVecs[F Real](v []r3.Vec) *View[F] {
	s := make([]F, 0, 3*len(v))
	for _, v := range v {
		s = append(s, F(v.X), F(v.Y), F(v.Z))
	}
	return &View[F]{X: s, Y: s[1:], Z: s[2:], Stride: 3}
}

func BenchmarkAim(b *testing.B) {
	b.Run("float64", benchmarkAim[float64])
	b.Run("float32", benchmarkAim[float32])
}

func benchmarkAim[F Real](b *testing.B) {
	aim := NewAim[F](r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3}))
	joints, targets := quads(flat[F](poses(1024)), 1), flatVecs[F](directions(1024))
	dst := quads(make([]F, 4*1024), 1)
	b.ReportAllocs()
	for b.Loop() {
		aim.Batch(dst, joints, targets, 1024)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1024, "ns/aim")
}

func TestAimAgainstSwing(t *testing.T) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	testAim[float64](t, axis, MaxAimError64, 0x1p-52, 3)
	// Rounded to float32 the opposite direction is not opposite any more.
	testAim[float32](t, axis, MaxAimError32, 0x1p-23, 2)
}

// swing.Aim is within its own bound of the truth in float64; what is left is ours
// and the rounding of the axis.
func testAim[F Real](t *testing.T, axis r3.Vec, bound, eps float64, undefined int) {
	joints, targets := poses(5000), directions(5000)
	joints[0], targets[0] = quat.Number{Real: 1}, r3.Scale(-1, axis)                          // half a turn
	joints[1], targets[1] = quat.Number{Real: 1}, r3.Add(r3.Scale(-1, axis), r3.Vec{X: 1e-3}) // nearly
	joints[2], targets[2] = quat.Number{Real: 1e-30, Imag: 1e-30}, r3.Vec{X: 1e-25, Y: 1e-25} // tiny
	joints[3], targets[3] = quat.Number{Real: 1e30, Imag: 1e30}, r3.Vec{X: 1e25, Y: 1e25}     // huge
	joints[4] = quat.Number{}                                                                 // no rotation
	targets[5] = r3.Vec{}                                                                     // no direction
	joints[6].Kmag, targets[7].X = math.NaN(), math.Inf(1)
	dst := quads(make([]F, 4*len(joints)), 1)
	aim := NewAim[F](axis)
	in, to := quads(flat[F](joints), 1), flatVecs[F](targets)
	outcome := aim.Batch(dst, in, to, len(joints))
	require.Equal(t, Outcome{Undefined: undefined, Bad: 2}, outcome)
	for i := range joints {
		w, x, y, z := in.at(i)
		q := quat.Number{Real: float64(w), Imag: float64(x), Jmag: float64(y), Kmag: float64(z)}
		d := r3.Vec{X: float64(to.X[3*i]), Y: float64(to.Y[3*i]), Z: float64(to.Z[3*i])}
		want, _ := swing.Aim(q, axis, d)
		w, x, y, z = dst.at(i)
		if i == 6 || i == 7 {
			require.True(t, w != w && x != x && y != y && z != z)
			continue
		}
		cos := 1.
		if norm := quat.Abs(q); norm > 0 { // of half the arc
			cos = math.Abs(quat.Mul(want, quat.Conj(quat.Scale(1/norm, q))).Real)
		}
		limit := (bound + swing.MaxArcError + eps) / max(cos, eps)
		if i == 0 { // any half turn will do
			continue
		}
		require.InDelta(t, want.Real, float64(w), limit, "%d", i)
		require.InDelta(t, want.Imag, float64(x), limit, "%d", i)
		require.InDelta(t, want.Jmag, float64(y), limit, "%d", i)
		require.InDelta(t, want.Kmag, float64(z), limit, "%d", i)
		require.InDelta(t, 1, math.Sqrt(float64(w*w)+float64(x*x)+float64(y*y)+float64(z*z)), 3*eps)
	}
	// In place.
	again := View[F]{W: in.W, X: in.X, Y: in.Y, Z: in.Z, Stride: in.Stride}
	aim.Batch(&again, in, to, len(joints))
	for i := range joints {
		w1, x1, y1, z1 := dst.at(i)
		w2, x2, y2, z2 := again.at(i)
		if w1 == w1 {
			require.Equal(t, [4]F{w1, x1, y1, z1}, [4]F{w2, x2, y2, z2})
		}
	}
}

// Lengths do not matter, as long and short as they may be.
func TestAimOfAnyLength(t *testing.T) {
	t.Run("float64", func(t *testing.T) { testAimOfAnyLength[float64](t, 1000, 1e-15) })
	t.Run("float32", func(t *testing.T) { testAimOfAnyLength[float32](t, 120, 5e-7) })
}

func testAimOfAnyLength[F Real](t *testing.T, most int, tolerance float64) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	q, d := quat.Number{Real: 0.5, Imag: 0.25, Jmag: -0.75, Kmag: 0.5}, r3.Vec{X: -0.5, Y: 0.25, Z: 1}
	want, _ := swing.Aim(q, axis, d)
	var joints []quat.Number
	var targets []r3.Vec
	for i := -most; i <= most; i += most / 20 {
		for j := -most; j <= most; j += most / 20 {
			joints = append(joints, quat.Scale(math.Ldexp(1, i), q))
			targets = append(targets, r3.Scale(math.Ldexp(1, j), d))
		}
	}
	dst := quads(make([]F, 4*len(joints)), 1)
	outcome := NewAim[F](axis).Batch(dst, quads(flat[F](joints), 1), flatVecs[F](targets), len(joints))
	require.Equal(t, Outcome{}, outcome)
	for i := range joints {
		got := number(dst.W[4*i:])
		require.InDelta(t, 0, quat.Abs(quat.Sub(want, got)), tolerance, "%v at %v", joints[i], targets[i])
	}
}
