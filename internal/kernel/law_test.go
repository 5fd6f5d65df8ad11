package kernel

import (
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// poses are rotations all over the place, the same every time.
func poses(n int) []quat.Number {
	random := rand.New(rand.NewPCG(1, 2))
	out := make([]quat.Number, n)
	for i := range out {
		q := quat.Number{Real: random.NormFloat64(), Imag: random.NormFloat64(), Jmag: random.NormFloat64(), Kmag: random.NormFloat64()}
		out[i] = quat.Scale(1/quat.Abs(q), q)
	}
	return out
}

func plainField(axis r3.Vec) *swing.Field {
	field, err := swing.NewField(axis, axis)
	if err != nil {
		panic(err)
	}
	return field
}

func centredField(axis r3.Vec) *swing.Field {
	field, err := swing.NewField(axis, r3.Add(axis, r3.Vec{X: 1}))
	if err != nil {
		panic(err)
	}
	return field
}

func bestField(tb testing.TB, axis r3.Vec) *swing.Field {
	region, err := swing.Cap(axis, 2)
	require.NoError(tb, err)
	field, err := swing.LeastRoll(axis, r3.Add(axis, r3.Vec{X: 0.3}), region, 12)
	require.NoError(tb, err)
	return field
}

// flat lays rotations out as w, x, y, z.
func flat[F Real](q []quat.Number) []F {
	out := make([]F, 0, 4*len(q))
	for _, q := range q {
		out = append(out, F(q.Real), F(q.Imag), F(q.Jmag), F(q.Kmag))
	}
	return out
}

// quads is a view of w, x, y, z side by side, with so many segments a limb.
func quads[F Real](s []F, segments int) *View[F] {
	return &View[F]{W: s, X: s[1:], Y: s[2:], Z: s[3:], Stride: 4 * segments, Segment: 4}
}

var thirds = []float64{-1, -2. / 3, -1. / 3, 0}

func BenchmarkBatch(b *testing.B) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	b.Run("float64/plain", func(b *testing.B) { benchmarkBatch[float64](b, axis, plainField(axis)) })
	b.Run("float64/best", func(b *testing.B) { benchmarkBatch[float64](b, axis, bestField(b, axis)) })
	b.Run("float32/plain", func(b *testing.B) { benchmarkBatch[float32](b, axis, plainField(axis)) })
	b.Run("float32/best", func(b *testing.B) { benchmarkBatch[float32](b, axis, bestField(b, axis)) })
}

func benchmarkBatch[F Real](b *testing.B, axis r3.Vec, field *swing.Field) {
	law := NewLaw[F](axis, thirds, nil, field, plainField(axis))
	joints := quads(flat[F](poses(1024)), 1)
	dst := quads(make([]F, 16*1024), 4)
	b.ReportAllocs()
	for b.Loop() {
		law.Batch(dst, joints, nil, 1024)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1024, "ns/limb")
}

func BenchmarkSingle(b *testing.B) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	law := NewLaw[float64](axis, thirds, nil, plainField(axis), plainField(axis))
	joints := flat[float64](poses(1024))
	dst := make([][4]float64, 4)
	var own, far Twist[float64]
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		law.Split(&own, &far, (*[4]float64)(joints[i&1023*4:]), nil)
		law.Solve(dst, &own, &far)
	}
}
