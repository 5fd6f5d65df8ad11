package swing

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// TestBand holds the solution of random systems to gonum's, for numbers of
// equations that are no multiple of what is eliminated together and bands as wide
// as the matrix.
func TestBand(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for _, size := range [][2]int{{1, 0}, {2, 1}, {5, 4}, {7, 2}, {8, 3}, {40, 11}, {63, 20}} {
		n, width := size[0], size[1]
		b := newBand(n, width)
		matrix, right := mat.NewSymBandDense(n, width, nil), mat.NewVecDense(n, nil)
		for i := range n {
			for j := i; j <= min(i+width, n-1); j++ {
				x := random.Float64() - 0.5
				if i == j {
					x += float64(width) + 1 // more than all others of a row together
				}
				matrix.SetSymBand(i, j, x)
				b.add(j, i, x/2)
				b.add(i, j, x/2)
			}
			b.right[i] = random.NormFloat64()
			right.SetVec(i, b.right[i])
		}
		got, ok := b.solve()
		require.True(t, ok)
		var factors mat.BandCholesky
		require.True(t, factors.Factorize(matrix))
		var want mat.VecDense
		require.NoError(t, factors.SolveVecTo(&want, right))
		require.Len(t, got, n)
		for i, x := range got {
			require.InDelta(t, want.AtVec(i), x, 1e-14, "%d equations, width %d", n, width)
		}
	}
}

// TestBandIndefinite: a minor that is not positive is found out, and so is NaN.
func TestBandIndefinite(t *testing.T) {
	for _, last := range []float64{4, 3, nan.X} { // 1·last - 2·2 is 0, -1, NaN
		b := newBand(2, 1)
		b.add(0, 0, 1)
		b.add(0, 1, 2)
		b.add(1, 1, last)
		_, ok := b.solve()
		require.False(t, ok, "%g", last)
	}
}
