package kernel

import (
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/swing"
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

func BenchmarkLimbOfFour(b *testing.B) {
	axis := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	law := Law{Axis: axis, Own: []float64{-1, -2. / 3, -1. / 3, 0}, Swing: NewSwing(plainField(axis))}
	joints := poses(1024)
	dst := make([]quat.Number, 4)
	var own, far Twist
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		law.Split(&own, &far, joints[i&1023], quat.Number{})
		law.Segments(dst, &own, &far)
	}
}
