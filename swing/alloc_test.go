package swing_test

import (
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Sinks keep the compiler from dropping the work.
var (
	sinkQuat quat.Number
	sinkVec  r3.Vec
)

var (
	from     = r3.Vec{X: 0.6, Y: 0.8}
	towards  = r3.Vec{X: 1, Y: 2, Z: 3}
	opposite = r3.Vec{X: -0.6, Y: -0.8, Z: 1e-9}
	attitude = quat.Number{Real: 0.5, Imag: -0.5, Jmag: 0.5, Kmag: 0.5}
)

func TestNoAllocations(t *testing.T) {
	points, tangents := helix(1, 1, 32)
	dst := make([]r3.Vec, len(points))
	for name, f := range map[string]func(){
		"Arc":            func() { sinkQuat, _ = swing.Arc(from, towards) },
		"Arc, opposite":  func() { sinkQuat, _ = swing.Arc(from, opposite) },
		"Arc, subnormal": func() { sinkQuat, _ = swing.Arc(from, r3.Vec{X: denorm}) },
		"Perpendicular":  func() { sinkVec, _ = swing.Perpendicular(from) },
		"Aim":            func() { sinkQuat, _ = swing.Aim(attitude, from, towards) },
		"AimIn":          func() { sinkQuat, _ = swing.AimIn(attitude, attitude, from, towards) },
		"Centred":        func() { sinkQuat, _ = swing.Centred(from, axisZ, towards) },
		"Transport":      func() { dst = swing.Transport(dst, points, tangents, axisX) },
	} {
		require.Zero(t, testing.AllocsPerRun(100, f), name)
	}
}

func BenchmarkArc(b *testing.B) {
	for _, c := range []struct {
		name string
		to   r3.Vec
	}{{"near", towards}, {"past a right angle", r3.Vec{X: -1, Y: -1, Z: 1}}, {"next to opposite", opposite}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sinkQuat, _ = swing.Arc(from, c.to)
			}
		})
	}
}

func BenchmarkAim(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkQuat, _ = swing.Aim(attitude, from, towards)
	}
}

func BenchmarkAimIn(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkQuat, _ = swing.AimIn(attitude, attitude, from, towards)
	}
}

func BenchmarkCentred(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkQuat, _ = swing.Centred(from, axisZ, towards)
	}
}

func BenchmarkTransport(b *testing.B) {
	points, tangents := helix(1, 1, 1000)
	dst := make([]r3.Vec, len(points))
	b.ReportAllocs()
	for b.Loop() {
		dst = swing.Transport(dst, points, tangents, axisX)
	}
}
