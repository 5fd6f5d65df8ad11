package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A box's corner spans an eighth of all directions, its edge a quarter seen from
// the middle of it, its middle all of them.
func TestWindings(t *testing.T) {
	m := box(r3.Vec{}, r3.Vec{X: 1, Y: 2, Z: 3})
	s := wholeShell(m, welded(m.Positions))
	require.Empty(t, s.rims)
	require.InDelta(t, 6, s.volume(m.Positions), 16*eps)
	triangles := s.triangles(nil, m.Positions)
	for p, want := range map[r3.Vec]float64{
		{X: 0.5, Y: 1, Z: 1.5}:          1,
		{X: 1e-9, Y: 1e-9, Z: 1e-9}:     1,
		{X: -1e-9, Y: -1e-9, Z: -1e-9}:  0,
		{X: 0.5, Y: 1, Z: 3.001}:        0,
		{X: -5, Y: 1, Z: 1.5}:           0,
		{X: 0.99999, Y: 1.9999, Z: 0.5}: 1,
	} {
		require.InDelta(t, want, windings(triangles, p), 1e-9, "%v", p)
	}
	// One face of a cube seen from its middle is a sixth.
	c := box(r3.Vec{X: -1, Y: -1, Z: -1}, r3.Vec{X: 1, Y: 1, Z: 1})
	s = wholeShell(c, welded(c.Positions))
	all := s.triangles(nil, c.Positions)
	require.InDelta(t, 1.0/6, windings(all[:2], r3.Vec{}), 4*eps)
}

// A box without its lid is closed by the fan over it.
func TestShellClosesHoles(t *testing.T) {
	m := box(r3.Vec{}, r3.Vec{X: 1, Y: 2, Z: 3})
	m.Triangles = m.Triangles[2:]
	s := wholeShell(m, welded(m.Positions))
	require.Len(t, s.rims, 1)
	require.InDelta(t, 6, s.volume(m.Positions), 16*eps)
	require.True(t, isInside(s.triangles(nil, m.Positions), r3.Vec{X: 0.5, Y: 1, Z: 0.01}))
	require.False(t, isInside(s.triangles(nil, m.Positions), r3.Vec{X: 0.5, Y: 1, Z: -0.01}))
}

// No point of the triangle is nearer, and the point is one of it.
func nearestOnIsNearest(t *rapid.T) {
	corner := rapid.OneOf(genVec(1), rapid.Just(r3.Vec{}), rapid.Just(r3.Vec{X: 1}))
	a, b, c := corner.Draw(t, "a"), corner.Draw(t, "b"), corner.Draw(t, "c")
	p := genVec(2).Draw(t, "p")
	got := r3.Norm(r3.Sub(p, nearestOn(a, b, c, p)))
	least := math.Inf(1)
	const steps = 40
	for i := range steps + 1 {
		for j := range steps + 1 - i {
			u, v := float64(i)/steps, float64(j)/steps
			q := r3.Add(a, r3.Add(r3.Scale(u, r3.Sub(b, a)), r3.Scale(v, r3.Sub(c, a))))
			least = min(least, r3.Norm(r3.Sub(p, q)))
		}
	}
	require.LessOrEqual(t, got, least+1e-7) // the foot on a sliver is worth half the digits
	require.GreaterOrEqual(t, got, least-4.0/steps)
}

func TestNearestOnIsNearest(t *testing.T) { rapid.Check(t, nearestOnIsNearest) }
func FuzzNearestOnIsNearest(f *testing.F) { f.Fuzz(rapid.MakeFuzz(nearestOnIsNearest)) }
