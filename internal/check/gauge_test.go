package check

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// pipe is a bone of unit length up +Y, of rings of eight vertices.
func pipe(rings int) skin.Mesh {
	var m skin.Mesh
	for ring := range rings {
		for i := range 8 {
			sin, cos := math.Sincos(math.Pi / 4 * float64(i))
			m.Positions = append(m.Positions, r3.Vec{X: sin, Y: float64(ring) / float64(rings-1), Z: cos})
			m.Influences = append(m.Influences, []skin.Influence{{Joint: 0, Weight: 1}})
			if ring > 0 {
				a, b := 8*(ring-1)+i, 8*(ring-1)+(i+1)%8
				m.Triangles = append(m.Triangles, [3]int{a, b, b + 8}, [3]int{a, b + 8, a + 8})
			}
		}
	}
	return m
}

// Nonsense is not measured.
func TestUnmeasured(t *testing.T) {
	m := pipe(33)
	g, err := newGauge(m, asset.LimbInfo{End: r3.Vec{Y: 1}})
	require.NoError(t, err)
	posed := func(move func(r3.Vec) r3.Vec) Loss {
		out := make([]r3.Vec, len(m.Positions))
		for i, p := range m.Positions {
			out[i] = move(p)
		}
		return g.measure(out)
	}
	twisted := func(degrees float64) func(r3.Vec) r3.Vec { // in all
		return func(p r3.Vec) r3.Vec {
			sin, cos := math.Sincos(degrees * math.Pi / 180 * p.Y)
			return r3.Vec{X: cos*p.X + sin*p.Z, Y: p.Y, Z: cos*p.Z - sin*p.X}
		}
	}
	even := posed(twisted(90))
	require.InDelta(t, 9, even.Steepest, 1e-6)
	require.InDelta(t, 1, even.Radius, 1e-9)
	require.InDelta(t, 180, posed(twisted(1799)).Steepest, 0.2)
	require.True(t, math.IsNaN(posed(twisted(1900)).Steepest))
	require.InDelta(t, 2.9, posed(func(p r3.Vec) r3.Vec { p.Y *= 2.9; return p }).Volume, 1e-6)
	require.True(t, math.IsNaN(posed(func(p r3.Vec) r3.Vec { p.Y *= 3.1; return p }).Volume))
	require.True(t, math.IsNaN(posed(func(p r3.Vec) r3.Vec { p.Y = -p.Y; return p }).Volume))
	from, to := g.cutFrom(m.Positions)
	require.Equal(t, []float64{0, 1}, []float64{from, to})
}

// A bone longer than its skin is cut only where there is some.
func TestUncutEnds(t *testing.T) {
	m := pipe(9)
	g, err := newGauge(m, asset.LimbInfo{Root: r3.Vec{Y: -1}, End: r3.Vec{Y: 1}})
	require.NoError(t, err)
	from, to := g.cutFrom(m.Positions)
	require.InDelta(t, 0.5, from, 1./32)
	require.Equal(t, 1.0, to)
	g, err = newGauge(m, asset.LimbInfo{Root: r3.Vec{Y: 2}, End: r3.Vec{Y: 3}})
	require.NoError(t, err) // no skin at all
	require.True(t, math.IsNaN(g.measure(m.Positions).Radius))
}
