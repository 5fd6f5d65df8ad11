package kernel

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/num/quat"
)

// BenchmarkFast has the layouts side by side, and what they cost without assembly.
func BenchmarkFast(b *testing.B) {
	b.Run("float32", benchmarkFast[float32])
	b.Run("float64", benchmarkFast[float64])
}

func benchmarkFast[F Real](b *testing.B) {
	for _, name := range []string{"plain", "best"} {
		law := NewLaw[F](fastAxis, thirds, nil, fastFields()[name], plainField(fastAxis))
		for _, l := range layouts[:3] {
			for _, on := range []bool{true, false} {
				if on && !HasFast() {
					continue
				}
				b.Run(fmt.Sprintf("%s/%s/avx2=%t", name, l.name, on), func(b *testing.B) {
					defer UseFast(UseFast(on))
					benchmarkLayout(b, law, l, poses(1024))
				})
			}
		}
	}
}

func benchmarkLayout[F Real](b *testing.B, law *Law[F], l layout, q []quat.Number) {
	_, in := place[F](l, len(q), 1)
	for i, q := range q {
		in.put(i, [4]F{F(q.Real), F(q.Imag), F(q.Jmag), F(q.Kmag)})
	}
	_, dst := place[F](l, len(q), law.Segments())
	b.ReportAllocs()
	for b.Loop() {
		law.Batch(dst, in, nil, len(q))
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(q)), "ns/limb")
}
