package kernel

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/internal/steady"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// What a million limbs come to, edge cases among them, on every processor and by
// every path. A change of these numbers is a change of solved bits: see
// DEVELOPERS.md, Releasing.
const (
	bits64 = 0xc8356b1e113bd68b
	bits32 = 0x1de18ce418fb2f1c
)

func TestSameBits(t *testing.T) {
	t.Run("float64", func(t *testing.T) { testSameBits[float64](t, bits64) })
	t.Run("float32", func(t *testing.T) { testSameBits[float32](t, bits32) })
}

func testSameBits[F Real](t *testing.T, want uint64) {
	paths := []bool{false}
	if HasFast() {
		paths = append(paths, true)
	}
	for _, path := range paths {
		was := UseFast(path)
		got := millionLimbs[F](t)
		UseFast(was)
		require.Equalf(t, want, got, "%#x; AVX2 %v", got, path)
	}
}

// millionLimbs is a checksum of the answers to a million limbs of every kind.
func millionLimbs[F Real](t *testing.T) uint64 {
	axis, _ := steady.Unit(r3.Vec{X: 1, Y: 2, Z: 3})
	plain := plainField(axis)
	laws := []*Law[F]{
		NewLaw[F](axis, []float64{-1, -2. / 3, -1. / 3, 0}, nil, plain, plain),
		NewLaw[F](axis, []float64{0, 0, 0}, []float64{0, 0.5, 1}, plain, plain),
		NewLaw[F](axis, []float64{-1, -0.75, -0.5, -0.25, 0}, []float64{0.1, 0, 0.6, 0.3, 1}, plain, plain),
		NewLaw[F](axis, []float64{-1, -0.4}, nil, centredField(axis), plain),
		NewLaw[F](axis, []float64{-1, -2. / 3, -1. / 3, 0}, nil, bestField(t, axis), plain),
	}
	const some, rounds = 8192, 1_000_000/(5*8192) + 1
	joints, tips, targets := make([]F, 4*some), make([]F, 4*some), make([]F, 3*some)
	out := make([]F, 4*5*some)
	random := rand.New(rand.NewPCG(2026, 11))
	sum := uint64(14695981039346656037)
	for range rounds {
		fill(random, joints, 4)
		fill(random, tips, 4)
		fill(random, targets, 3)
		for _, law := range laws {
			n := law.Segments()
			dst := quads(out[:4*n*some], n)
			law.Batch(dst, quads(joints, 1), quads(tips, 1), some)
			sum = mix(sum, out[:4*n*some])
		}
		aim := NewAim[F](axis)
		dst := quads(out[:4*some], 1)
		aim.Batch(dst, quads(joints, 1), &View[F]{X: targets, Y: targets[1:], Z: targets[2:], Stride: 3}, some)
		sum = mix(sum, out[:4*some])
	}
	return sum
}

// fill makes rotations or directions, by integers alone, so that every processor
// makes the same ones; one in 64 is an edge case.
func fill[F Real](random *rand.Rand, s []F, size int) {
	special := []F{
		0, F(math.Copysign(0, -1)), 1, -1, nan[F](), F(math.Inf(1)), F(math.Inf(-1)),
		F(math.SmallestNonzeroFloat32), 1e-30, -1e30, F(math.MaxFloat32), 0x1p-24, 1 - 0x1p-24,
	}
	for i := 0; i < len(s); i += size {
		edge := random.Uint64()%64 == 0
		scale := F(1)
		if random.Uint64()%16 == 0 {
			scale = F(math.Ldexp(1, int(random.Uint64()%60)-30))
		}
		for k := range size {
			word := random.Uint64()
			s[i+k] = F(int32(word>>33)-1<<30) * 0x1p-30 * scale
			if edge && word%4 != 0 {
				s[i+k] = special[(word>>8)%uint64(len(special))]
			}
		}
	}
}

// mix takes every bit of s into a checksum.
func mix[F Real](sum uint64, s []F) uint64 {
	if isSingle[F]() {
		for _, f := range singles(s) {
			sum = (sum ^ uint64(math.Float32bits(f))) * 1099511628211
			sum ^= sum >> 29
		}
		return sum
	}
	for _, f := range doubles(s) {
		sum = (sum ^ math.Float64bits(f)) * 1099511628211
		sum ^= sum >> 29
	}
	return sum
}
