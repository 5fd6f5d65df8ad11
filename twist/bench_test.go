package twist_test

import (
	"testing"

	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Sinks keep the compiler from dropping the work.
var (
	sinkParts twist.Parts
	sinkQuat  quat.Number
	sinkFloat float64
)

// inputs are a unit rotation and a unit axis, and the same at other lengths.
var inputs = []struct {
	name string
	q    quat.Number
	axis r3.Vec
}{
	{"unit", quat.Number{Real: 0.5, Imag: -0.5, Jmag: 0.5, Kmag: 0.5}, r3.Vec{X: 0.6, Z: 0.8}},
	{"any length", quat.Number{Real: 1, Imag: 2, Jmag: 3, Kmag: 4}, r3.Vec{X: 1, Y: 2, Z: 2}},
	{"huge", quat.Number{Real: 1e300, Imag: 2e300, Jmag: 3e300, Kmag: 4e300}, r3.Vec{X: 1, Y: 2, Z: 2}},
}

func BenchmarkSplit(b *testing.B) {
	for _, in := range inputs {
		b.Run(in.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sinkParts, _ = twist.Split(in.q, in.axis)
			}
		})
	}
}

func BenchmarkAngle(b *testing.B) {
	for _, in := range inputs {
		b.Run(in.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sinkFloat, _ = twist.Angle(in.q, in.axis)
			}
		})
	}
}

func BenchmarkAbout(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkQuat = twist.About(inputs[0].axis, 1.25)
	}
}

func BenchmarkPower(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkQuat, _ = twist.Power(inputs[0].q, inputs[0].axis, 0.5)
	}
}

func BenchmarkUnwrap(b *testing.B) {
	angles := make([]float64, 1000)
	for i := range angles {
		angles[i] = float64(i%7) - 3
	}
	dst := make([]float64, len(angles))
	b.ReportAllocs()
	for b.Loop() {
		dst = twist.Unwrap(dst, angles)
	}
}
