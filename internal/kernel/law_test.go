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

func bestField(tb testing.TB, axis r3.Vec) *swing.Field {
	region, err := swing.Cap(axis, 2)
	require.NoError(tb, err)
	field, err := swing.Best(axis, r3.Add(axis, r3.Vec{X: 0.3}), region, 12)
	require.NoError(tb, err)
	return field
}

func BenchmarkLimbOfFour(b *testing.B) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	benchmarkLimb(b, axis, plainField(axis))
}

// What looking the correction up takes is the difference.
func BenchmarkLimbOfFourInTheBestField(b *testing.B) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	benchmarkLimb(b, axis, bestField(b, axis))
}

func benchmarkLimb(b *testing.B, axis r3.Vec, field *swing.Field) {
	law := Law{Axis: axis, Own: []float64{-1, -2. / 3, -1. / 3, 0}, Swing: NewSwing(field)}
	joints := poses(1024)
	dst := make([]quat.Number, 4)
	var own, far Twist
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		law.Split(&own, &far, joints[i&1023], quat.Number{})
		law.Segments(dst, &own, &far)
	}
}
