package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const eps = 0x1p-52

// unityTolerance is the promise of the package documentation: four terms, each
// right to a few half-eps.
const unityTolerance = 1e-15

var bases = []Basis{Quadratic, Hat, Cubic}

func weights(b Basis, n int, u float64) []float64 {
	w := make([]float64, n)
	b.Weights(w, u)
	return w
}

// The uniform cubic B-spline at a knot, (1,4,1,0)/6, and half way between two,
// (1,23,23,1)/48 (Piegl & Tiller 1997, The NURBS Book; from memory). Away from
// the ends, the weights are the spline itself.
func TestCubicPublished(t *testing.T) {
	require.InDeltaSlice(t, []float64{0, 0, 1. / 6, 4. / 6, 1. / 6, 0, 0, 0, 0}, weights(Cubic, 9, 3./8), 1e-15)
	require.InDeltaSlice(t, []float64{0, 0, 1. / 48, 23. / 48, 23. / 48, 1. / 48, 0, 0, 0}, weights(Cubic, 9, 3.5/8), 1e-15)
}

// The uniform quadratic B-spline at its centre, (1,6,1)/8, and at a knot,
// (1,1)/2 (same source; the quadratic follows from the recursion there).
func TestQuadraticPublished(t *testing.T) {
	require.InDeltaSlice(t, []float64{0, 0, 1. / 8, 6. / 8, 1. / 8, 0, 0, 0, 0}, weights(Quadratic, 9, 3./8), 1e-15)
	require.InDeltaSlice(t, []float64{0, 0, 0, 1. / 2, 1. / 2, 0, 0, 0, 0}, weights(Quadratic, 9, 3.5/8), 1e-15)
}

func TestWeightsTable(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		name string
		n    int
		u    float64
		want []float64
	}{
		{"no segment", 0, 0.5, []float64{}},
		{"one segment", 1, 0.3, []float64{1}},
		{"two are the hat", 2, 0.3, []float64{0.7, 0.3}},
		{"before the joint", 3, -5, []float64{1, 0, 0}},
		{"past the end", 3, 7, []float64{0, 0, 1}},
		{"minus infinity", 3, math.Inf(-1), []float64{1, 0, 0}},
		{"infinity", 3, math.Inf(1), []float64{0, 0, 1}},
		{"subnormal", 3, 5e-324, []float64{1, 0, 0}},
	}
	for _, b := range bases {
		for _, test := range tests {
			t.Run(b.String()+" "+test.name, func(t *testing.T) {
				require.InDeltaSlice(t, test.want, weights(b, test.n, test.u), unityTolerance)
			})
		}
		for n := 1; n <= 5; n++ {
			for _, w := range weights(b, n, nan) {
				require.True(t, math.IsNaN(w))
			}
		}
	}
}

func TestWeightsOverwrite(t *testing.T) {
	dst := []float64{9, 9, 9, 9, 9}
	Hat.Weights(dst, 0.125)
	require.Equal(t, []float64{0.5, 0.5, 0, 0, 0}, dst)
}

func TestBasisNames(t *testing.T) {
	require.Equal(t, "quadratic", Basis(0).String(), "the default")
	require.Equal(t, "hat", Hat.String())
	require.Equal(t, "cubic", Cubic.String())
	require.Equal(t, weights(Quadratic, 6, 0.4), weights(Basis(17), 6, 0.4), "unknown is quadratic")
	require.Equal(t, []int{3, 2, 4, 3}, []int{Quadratic.Spread(), Hat.Spread(), Cubic.Spread(), Basis(-1).Spread()})
}

// genPlace draws places along the bone: anywhere, on the nodes, between them
// and a rounding away from either.
func genPlace(n int) *rapid.Generator[float64] {
	node := rapid.Custom(func(t *rapid.T) float64 {
		u := float64(rapid.IntRange(0, 2*n).Draw(t, "half span")) / float64(2*max(n-1, 1))
		switch rapid.IntRange(0, 2).Draw(t, "side") {
		case 0:
			u = math.Nextafter(u, 0)
		case 1:
			u = math.Nextafter(u, 2)
		}
		return min(u, 1)
	})
	return rapid.OneOf(rapid.Float64Range(0, 1), node, rapid.SampledFrom([]float64{0, 1, 5e-324, 1e-16}))
}

func weightsAreFair(t *rapid.T) {
	b := rapid.SampledFrom(bases).Draw(t, "basis")
	n := rapid.IntRange(1, 12).Draw(t, "segments")
	u := genPlace(n).Draw(t, "u")
	w := weights(b, n, u)

	var sum, mean float64
	count := 0
	for i, x := range w {
		require.GreaterOrEqual(t, x, 0.0, "never negative")
		require.False(t, math.Signbit(x))
		sum += x
		if n > 1 {
			mean += x * float64(i) / float64(n-1)
		}
		if x > 0 {
			count++
		}
	}
	require.InDelta(t, 1, sum, unityTolerance, "partition of unity")
	require.LessOrEqual(t, count, b.Spread(), "spread")
	if n > 1 {
		require.InDelta(t, u, mean, 4*eps, "linear precision")
	}
	// The same from the other end. 1-u and the place within the span round.
	for i, x := range weights(b, n, 1-u) {
		require.InDelta(t, x, w[n-1-i], 4*eps*float64(n), "mirrored")
	}
}

func TestWeightsAreFair(t *testing.T) { rapid.Check(t, weightsAreFair) }
func FuzzWeightsAreFair(f *testing.F) { f.Fuzz(rapid.MakeFuzz(weightsAreFair)) }

func TestWeightsEndsInterpolate(t *testing.T) {
	for _, b := range bases {
		for n := 1; n <= 9; n++ {
			first, last := make([]float64, n), make([]float64, n)
			first[0], last[n-1] = 1, 1
			require.Equal(t, first, weights(b, n, 0), "%v of %d, to the bit", b, n)
			require.Equal(t, last, weights(b, n, 1), "%v of %d, to the bit", b, n)
		}
	}
}

// Derivatives on either side of every node and half-way point agree up to the
// basis' order of continuity, and no further: hat C0, quadratic C1, cubic C2.
// One-sided differences over pieces that are polynomials of degree at most 3
// are exact if taken through four points.
func TestWeightsContinuity(t *testing.T) {
	const h = 1. / 1024
	const n = 6
	at := func(b Basis, segment int, x float64) float64 { return weights(b, n, x/(n-1))[segment] }
	// derivatives of the cubic through f(0), f(h), f(2h), f(3h), at 0
	derivatives := func(f func(float64) float64, h float64) [3]float64 {
		f0, f1, f2, f3 := f(0), f(h), f(2*h), f(3*h)
		return [3]float64{
			f0,
			(-11*f0 + 18*f1 - 9*f2 + 2*f3) / (6 * h),
			(2*f0 - 5*f1 + 4*f2 - f3) / (h * h),
		}
	}
	orders := map[Basis]int{Hat: 0, Quadratic: 1, Cubic: 2}
	for b, order := range orders {
		jump := [3]float64{}
		for k := 1; k < 2*(n-1); k++ { // nodes and half-way points inside
			x := float64(k) / 2
			for segment := range n {
				f := func(d float64) float64 { return at(b, segment, x+d) }
				left, right := derivatives(f, -h), derivatives(f, h)
				for i := range jump {
					jump[i] = max(jump[i], math.Abs(left[i]-right[i]))
				}
			}
		}
		for i := range jump {
			if i <= order {
				// Rounding: 40 eps over h for the slope, 12 eps over h² for the
				// curvature.
				require.Less(t, jump[i], 1e-8, "%v, derivative %d", b, i)
			} else if i == order+1 {
				require.Greater(t, jump[i], 0.1, "%v, derivative %d: the check cannot fail", b, i)
			}
		}
	}
	// Cubic meets both ends without curvature, as the straight continuation has it.
	for segment := range n {
		d := derivatives(func(d float64) float64 { return at(Cubic, segment, d) }, h)
		require.InDelta(t, 0, d[2], 1e-8)
	}
}

func TestWeightsAllocateNothing(t *testing.T) {
	dst := make([]float64, 6)
	for _, b := range bases {
		require.Zero(t, testing.AllocsPerRun(100, func() { b.Weights(dst, 0.37) }))
	}
}

func BenchmarkWeights(b *testing.B) {
	dst := make([]float64, 4)
	for _, basis := range bases {
		b.Run(basis.String(), func(b *testing.B) {
			b.ReportAllocs()
			u := 0.0
			for b.Loop() {
				basis.Weights(dst, u)
				u += 0.001
				if u > 1 {
					u = 0
				}
			}
		})
	}
}
