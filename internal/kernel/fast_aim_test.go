package kernel

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// placeDirections lays directions out in one of four ways.
func placeDirections[F Real](kind int, directions [][4]F) *View[F] {
	n := len(directions)
	v := &View[F]{}
	switch kind {
	case 0: // side by side
		s := make([]F, 3*n)
		v = &View[F]{X: s, Y: s[1:], Z: s[2:], Stride: 3}
	case 1: // with gaps
		s := make([]F, 5*n)
		v = &View[F]{X: s, Y: s[1:], Z: s[2:], Stride: 5}
	case 2: // planes
		v = &View[F]{X: make([]F, n), Y: make([]F, n), Z: make([]F, n), Stride: 1}
	default: // anyhow
		v = &View[F]{X: make([]F, 2*n), Y: make([]F, 2*n), Z: make([]F, 2*n), Stride: 2}
	}
	for i, d := range directions {
		k := i * v.Stride
		v.X[k], v.Y[k], v.Z[k] = d[0], d[1], d[2]
	}
	return v
}

func requireSameAims[F Real](tb testing.TB, from, to layout, kind int, joints, directions [][4]F) {
	tb.Helper()
	n := len(joints)
	aim := NewAim[F](fastAxis)
	targets := placeDirections(kind, directions)
	var dst, inPlace [2][]F
	var outcome [2]Outcome
	for way, on := range []bool{false, true} {
		UseFast(on)
		buffer, view := place[F](to, n, 1)
		dst[way] = buffer
		own, in := place[F](from, n, 1)
		inPlace[way] = own
		for i := range joints {
			in.put(i, joints[i])
		}
		outcome[way] = aim.Batch(view, in, targets, n)
		require.Equal(tb, outcome[way], aim.Batch(in, in, targets, n))
	}
	require.Equal(tb, outcome[0], outcome[1])
	requireBits(tb, dst[0], dst[1], "aims, n = %d, %s to %s", n, from.name, to.name)
	requireBits(tb, inPlace[0], inPlace[1], "aims in place, n = %d, %s", n, from.name)
}

func TestFastAimHasThePlainBits(t *testing.T) {
	t.Run("float32", testFastAim[float32])
	t.Run("float64", testFastAim[float64])
}

func testFastAim[F Real](t *testing.T) {
	needFast(t)
	random := rand.New(rand.NewPCG(11, 12))
	for n := 1; n <= 130; n++ {
		for i, to := range layouts {
			from := layouts[(i+n)%len(layouts)]
			joints, directions := rotations[F](random, n, n%4*20), rotations[F](random, n, n%3*20)
			requireSameAims(t, from, to, (n+i/2)%4, joints, directions)
		}
	}
	for _, every := range []int{0, 40} {
		joints, directions := rotations[F](random, 20000, every), rotations[F](random, 20000, every)
		requireSameAims(t, layouts[1], layouts[2], 0, joints, directions)
	}
	// Opposite to the axis, exactly and nearly.
	joints, directions := rotations[F](random, 20000, 0), rotations[F](random, 20000, 0)
	for i := range joints {
		joints[i] = [4]F{1, 0, 0, 0}
		by := math.Exp(-30 * random.Float64())
		directions[i] = [4]F{F(by - fastAxis.X), F(-fastAxis.Y), F(-fastAxis.Z)}
	}
	requireSameAims(t, layouts[1], layouts[1], 0, joints, directions)
}
