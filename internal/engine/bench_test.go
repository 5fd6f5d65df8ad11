package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What cmd/libpronate's BenchmarkC measures from C, without C.

const benchPoses = 64

// spread is cost.c's: rotations and targets that are all over the place.
func spread[F float32 | float64](n, step int) []F {
	out := make([]F, n)
	for i := range out {
		out[i] = (F(i*step%64) - 31.5) / 32
	}
	return out
}

func benchLimb(b *testing.B) Handle {
	h, err := New(Spec{Segments: 4})
	require.NoError(b, err)
	b.Cleanup(func() { require.NoError(b, Free(h)) })
	return h
}

func benchPacked[F float32 | float64](b *testing.B) {
	h := benchLimb(b)
	joints, dst := spread[F](4*benchPoses, 37), make([]F, 16*benchPoses)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := SolvePacked(h, &dst[0], &joints[0], nil, benchPoses); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSolvePacked32(b *testing.B) { benchPacked[float32](b) }
func BenchmarkSolvePacked64(b *testing.B) { benchPacked[float64](b) }

func benchAim[F float32 | float64](b *testing.B) {
	joints, targets, dst := spread[F](4*benchPoses, 37), spread[F](3*benchPoses, 29), make([]F, 4*benchPoses)
	axis := [3]float64{0, 1, 0}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := AimPacked(&axis, &dst[0], &joints[0], &targets[0], benchPoses); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAimPacked32(b *testing.B) { benchAim[float32](b) }
func BenchmarkAimPacked64(b *testing.B) { benchAim[float64](b) }

func BenchmarkSolve(b *testing.B) {
	l, err := Lookup(benchLimb(b))
	require.NoError(b, err)
	joint, dst := [4]float64{.1, .2, .3, .9}, make([]float64, 16)
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := l.Solve(dst, &joint, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLookup(b *testing.B) {
	h := benchLimb(b)
	for b.Loop() {
		if _, err := Lookup(h); err != nil {
			b.Fatal(err)
		}
	}
}
