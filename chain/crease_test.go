package chain_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func creaser(t require.TestingT, n int, spec chain.Crease) *chain.Creaser {
	c, err := chain.NewCreaser(chain.Limb{Name: "arm", Segments: n}, spec)
	require.NoError(t, err)
	return c
}

// A straight arm along Y whose elbow closes by an angle towards Z: up the near
// bone is +Y, down the far one turns from -Y through +Z.
func closedBy(angle float64) (near, far r3.Vec) {
	sin, cos := math.Sincos(angle)
	return r3.Vec{Y: 1}, r3.Vec{Y: -cos, Z: sin}
}

func TestCreaseEasesPartsAcrossTheBisector(t *testing.T) {
	near := creaser(t, 3, chain.Crease{Part: chain.NearPart, Most: 0.02})
	far := creaser(t, 3, chain.Crease{Part: chain.FarPart, Most: 0.02})
	a, b := make([]r3.Vec, 3), make([]r3.Vec, 3)

	// At 90 degrees, half-way between onset and full: half of most, along the
	// diagonal (0, 1, -1)/√2.
	relief := near.Solve(a, r3.Vec{Y: 3}, r3.Vec{Z: 0.1})
	require.Equal(t, relief, far.Solve(b, r3.Vec{Y: 3}, r3.Vec{Z: 0.1}))
	require.InDelta(t, 90*degree, relief.Closed, 1e-15)
	require.InDelta(t, 0.01, relief.Amount, 1e-15)
	want := 0.01 / math.Sqrt2
	require.InDelta(t, want, a[2].Y, 1e-15)
	require.InDelta(t, -want, a[2].Z, 1e-15)
	require.InDelta(t, want/2, a[1].Y, 1e-15, "half-way along, half of it")
	require.Equal(t, r3.Vec{}, a[0], "the far end stays")
	require.InDelta(t, -want, b[0].Y, 1e-15)
	require.InDelta(t, want, b[0].Z, 1e-15)
	require.Zero(t, r3.Norm(b[2]))

	// Up to the onset nothing, from full on all of it, past rest nothing.
	for _, c := range []struct{ angle, amount float64 }{{0, 0}, {40, 0}, {140, 0.02}, {160, 0.02}, {-60, 0}} {
		u, v := closedBy(c.angle * degree)
		if c.angle < 0 { // from a bent rest, straightened
			c := creaser(t, 2, chain.Crease{Most: 1, NearRest: u, FarRest: r3.Vec{Z: 1}})
			require.Zero(t, c.Relief(r3.Vec{Y: 1}, r3.Vec{Y: -1}).Amount)
			continue
		}
		require.InDelta(t, c.amount, near.Relief(u, v).Amount, 1e-15, "%g degrees", c.angle)
	}
}

// In line the parts ease along the bone; on one another there is no plane
// between them, and the relief has faded.
func TestCreaseStraightAndFlat(t *testing.T) {
	c := creaser(t, 2, chain.Crease{Most: 1, Onset: 0, Full: 1, NearRest: r3.Vec{Y: 1}, FarRest: r3.Vec{X: 1, Y: -2}})
	straight := c.Relief(r3.Vec{Y: 1}, r3.Vec{Y: -1})
	require.Equal(t, r3.Vec{Y: 1}, straight.Apart)
	require.Less(t, straight.Closed, 0.)
	require.Zero(t, straight.Amount)

	c = creaser(t, 2, chain.Crease{Most: 1})
	last := 1.
	for _, left := range []float64{5, 4, 3, 2, 1, 0.1, 1e-6} {
		got := c.Relief(closedBy(math.Pi - left*degree))
		require.InDelta(t, 1, r3.Norm(got.Apart), 1e-12)
		require.LessOrEqual(t, got.Amount, last)
		last = got.Amount
	}
	require.Less(t, last, 1e-12)
	flat := c.Relief(r3.Vec{Y: 1}, r3.Vec{Y: 2})
	require.Zero(t, flat.Amount)
	require.Equal(t, r3.Vec{}, flat.Apart)
	require.Equal(t, chain.Relief{}, c.Relief(r3.Vec{}, r3.Vec{Y: 1}))
	require.True(t, math.IsNaN(c.Relief(r3.Vec{X: math.NaN()}, r3.Vec{Y: 1}).Amount))
	require.Panics(t, func() { c.Solve(make([]r3.Vec, 3), r3.Vec{Y: 1}, r3.Vec{Y: 1}) })
}

func creaseProperties(r *rapid.T) {
	spec := chain.Crease{
		Part: rapid.SampledFrom([]chain.Part{chain.NearPart, chain.FarPart}).Draw(r, "part"),
		Most: rapid.Float64Range(0, 1).Draw(r, "most"), Onset: rapid.Float64Range(0, 2).Draw(r, "onset"),
		NearRest: directionOf(r, "near at rest"), FarRest: directionOf(r, "far at rest"),
	}
	spec.Full = spec.Onset + rapid.Float64Range(0.1, math.Pi-2).Draw(r, "span")
	n := rapid.IntRange(2, 6).Draw(r, "segments")
	c := creaser(r, n, spec)
	dst, turned := make([]r3.Vec, n), make([]r3.Vec, n)

	// Rest does not move: an angle measured twice differs by roundings e, and
	// smooth(e/span) is of the order of their square.
	c.Solve(dst, spec.NearRest, spec.FarRest)
	for _, move := range dst {
		require.LessOrEqual(r, r3.Norm(move), 1e-26)
	}
	// Bounded, and falling off along the bone.
	u, v := directionOf(r, "near"), directionOf(r, "far")
	relief := c.Solve(dst, u, v)
	require.LessOrEqual(r, relief.Amount, spec.Most)
	for i := 1; i < n; i++ {
		a, b := r3.Norm(dst[i-1]), r3.Norm(dst[i])
		if spec.Part == chain.FarPart {
			a, b = b, a
		}
		require.LessOrEqual(r, a, b+1e-15)
	}
	// A mirror image eases to the mirror image, a turned one turns.
	mirror := func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.X, Y: v.Y, Z: v.Z} }
	q := rotationOf(r, "turn")
	for _, change := range []func(r3.Vec) r3.Vec{mirror, func(v r3.Vec) r3.Vec { return rotate(q, v) }} {
		c.Solve(turned, change(u), change(v))
		for i := range dst {
			require.InDelta(r, 0, r3.Norm(r3.Sub(change(dst[i]), turned[i])), 1e-12)
		}
	}
	// Exchanging the bones exchanges the sides.
	back := c.Relief(v, u)
	require.InDelta(r, relief.Amount, back.Amount, 1e-15)
	require.InDelta(r, 0, r3.Norm(r3.Add(relief.Apart, back.Apart)), 1e-12)
}

func TestCreaseProperties(t *testing.T) { rapid.Check(t, creaseProperties) }

func FuzzCrease(f *testing.F) { f.Fuzz(rapid.MakeFuzz(creaseProperties)) }

// The relief leaves rest without slope, and its slope has no jump anywhere: over
// steps h the second difference of a C1 curve of bounded curvature k is under k
// h², while a kink of slope s would show s h. The sharpest curve is the fading
// over 5 degrees, 6 m/(5 degrees)² for most m; the direction turns by half as
// much as the joint and adds little.
func TestCreaseIsSmooth(t *testing.T) {
	const h, most = 1e-4, 0.02
	c := creaser(t, 2, chain.Crease{Most: most, Onset: 0, Full: 120 * degree})
	at := func(angle float64) r3.Vec {
		dst := make([]r3.Vec, 2)
		c.Solve(dst, r3.Vec{Y: 1}, func() r3.Vec { _, far := closedBy(angle); return far }())
		return dst[1]
	}
	require.Less(t, r3.Norm(at(h))/h, 3*most*h, "no slope at rest")
	sharpest := 6.5 * most / (5 * degree * 5 * degree)
	for angle := h; angle < math.Pi-h; angle += h {
		second := r3.Add(r3.Sub(at(angle-h), r3.Scale(2, at(angle))), at(angle+h))
		require.Less(t, r3.Norm(second), sharpest*h*h, "at %g", angle/degree)
	}
}

func TestCreaseErrors(t *testing.T) {
	for message, spec := range map[string]chain.Crease{
		`chain: limb "arm": crease: part is 2, expected NearPart or FarPart`:                                         {Part: 2},
		`chain: limb "arm": crease: most is -1, expected a finite number of metres, 0 or more`:                       {Most: -1},
		`chain: limb "arm": crease: most is NaN, expected a finite number of metres, 0 or more`:                      {Most: math.NaN()},
		`chain: limb "arm": crease: onset is 2 and full 1, expected 0 or more, then more than that and at most pi`:   {Onset: 2, Full: 1},
		`chain: limb "arm": crease: onset is 1 and full NaN, expected 0 or more, then more than that and at most pi`: {Onset: 1, Full: math.NaN()},
		`chain: limb "arm": crease: far rest is [0, 0, 0], expected a finite direction of non-zero length`:           {NearRest: r3.Vec{X: 1}},
		`chain: limb "arm": crease: near rest is [NaN, 0, 0], expected a finite direction of non-zero length`:        {NearRest: r3.Vec{X: math.NaN()}, FarRest: r3.Vec{X: 1}},
	} {
		_, err := chain.NewCreaser(chain.Limb{Name: "arm"}, spec)
		require.EqualError(t, err, message)
	}
	_, err := chain.NewCreaser(chain.Limb{Name: "arm", Segments: 99}, chain.Crease{})
	require.EqualError(t, err, `chain: limb "arm": segments is 99, expected 2 to 32`)
}

func TestCreaseAllocatesNothing(t *testing.T) {
	c, dst := creaser(t, 4, chain.Crease{Most: 1}), make([]r3.Vec, 4)
	require.Zero(t, testing.AllocsPerRun(100, func() { c.Solve(dst, r3.Vec{X: 1}, r3.Vec{X: 1, Y: 1}) }))
}
