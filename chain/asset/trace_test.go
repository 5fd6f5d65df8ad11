package asset

import (
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// The quick look at an angle decides as the angle itself does.
func TestTurnsBy(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 10000 {
		q := func() quat.Number {
			return twist.About(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}, r.Float64())
		}
		a, b := q(), quat.Scale(float64(2*r.IntN(2)-1), q())
		angle := turn(a, b)
		for _, most := range []float64{angle * (1 - 1e-9), angle * (1 + 1e-9), r.Float64(), 0} {
			require.Equal(t, angle > most, turnsBy(a, b, most))
		}
	}
	require.False(t, turnsBy(quat.Number{}, quat.Number{}, 0))
}

// What a watch passes over is never the farthest.
func TestWatchMissesNothing(t *testing.T) {
	hip := chain.Hip(r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1})
	r := rand.New(rand.NewPCG(7, 8))
	looks := 0
	for range 50 {
		w := watch{motion: hip, axis: r3.Vec{Y: -1}, interest: tellBeyond}
		var farthest float64
		q, spin := quat.Number{Real: 1}, r3.Vec{}
		for i := range 2000 {
			spin = r3.Add(r3.Scale(0.98, spin), r3.Vec{X: 0.004 * r.NormFloat64(), Z: 0.004 * r.NormFloat64()})
			q = unit(quat.Mul(quat.Number{Real: 1, Imag: spin.X, Kmag: spin.Z}, q))
			before := w.looked
			w.see(&sample{time: float64(i), joint: q})
			if w.looked != before {
				looks++
			}
			farthest = max(farthest, hip.Beyond(steady.Rotate(q, w.axis)))
		}
		require.Greater(t, farthest, tellBeyond)
		require.Equal(t, farthest, w.beyond)
	}
	require.Less(t, looks, 50*2000/2, "most poses need no close look")
}

// Where segments share out one twist the widest decides, where they share out two all
// do.
func TestLeadingShares(t *testing.T) {
	own := shares([]float64{0, 0.5, 1}, nil)
	require.Equal(t, []share{{-1, 0}}, leading(own))
	tip := shares([]float64{1, 1, 1}, []float64{0, 0.4, 0.8})
	require.Equal(t, []share{{0, 0.8}}, leading(tip))
	both := shares([]float64{0, 1}, []float64{0, 1})
	require.Equal(t, both, leading(both))
	mixed := shares([]float64{0, 0.5}, []float64{0.2, 0})
	require.Equal(t, mixed, leading(mixed))
}
