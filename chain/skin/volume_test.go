package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func mustVolume(t require.TestingT, m Mesh, limb []bool, bone Bone, from, to float64) *Volume {
	v, err := NewVolume(m, limb, bone, from, to)
	require.NoError(t, err)
	return v
}

// A tube of 64 corners has the volume 32 sin(2 pi/64). Twisted by 90 degrees
// with weights linear along it, it keeps 0.666410798 of it on 64 lengths and
// 0.666602699 on 256 (linear blending: Magnenat-Thalmann, Laperrière & Thalmann
// 1988; Lewis, Cordner & Fong 2000; values worked out numerically, to nine
// digits); with 3u² - 2u³ for weights 1 - (18/35) sin²(angle/2).
func TestVolumeOfLinearBlending(t *testing.T) {
	const digits, tolerance = 5e-10, 5e-4
	for lengths, published := range map[int]float64{64: 0.666410798, 256: 0.666602699} {
		m := newTube(64, lengths+1).mesh(along(Hat, 2))
		v := mustVolume(t, m, nil, upright, 0, 1)
		require.InDelta(t, 3.136548490546, v.Rest(), 1e-12)
		require.InDelta(t, 32*math.Sin(2*math.Pi/64), v.Rest(), 1e-12)
		require.InDelta(t, published, v.Ratio(Linear(nil, m, matrices(wrung(2, math.Pi/2)))), digits)
		for _, degrees := range []float64{60, 90, 120, 150, 180} {
			angle := degrees * math.Pi / 180
			sin := math.Sin(angle / 2)
			got := v.Ratio(Linear(nil, m, matrices(wrung(2, angle))))
			require.InDelta(t, 1-2*sin*sin/3, got, tolerance*sin*sin*2.5, "%v degrees", degrees)
			smooth := m
			smooth.Influences = newTube(64, lengths+1).mesh(smoothly).Influences
			got = v.Ratio(Linear(nil, smooth, matrices(wrung(2, angle))))
			require.InDelta(t, 1-18*sin*sin/35, got, tolerance*sin*sin*2.5, "%v degrees, smooth", degrees)
		}
	}
}

// A twist of 90 degrees shared out over k spans (each span blends a
// k-th of it; formulas as above, worked out numerically): volumes .666667, .902369, .955342, .974627 and least
// radii .707107, .923880, .965926, .980785 half way along a span.
func TestVolumeOverSpans(t *testing.T) {
	for k, want := range []struct{ radius, volume float64 }{
		{.707107, .666667}, {.923880, .902369}, {.965926, .955342}, {.980785, .974627},
	} {
		m := newTube(64, 145).mesh(along(Hat, k+2)) // a ring at every node and half way between
		posed := Linear(nil, m, matrices(wrung(k+2, math.Pi/2)))
		require.InDelta(t, want.volume, mustVolume(t, m, nil, upright, 0, 1).Ratio(posed), 5e-4)
		least := math.Inf(1)
		for _, section := range mustSections(t, m, nil, upright, spaced(144)).Measure(nil, posed, wrung(1, 0)[0].Rotation) {
			least = min(least, section.Radius)
		}
		require.InDelta(t, want.radius, least, 5e-7)
	}
}

// What dual quaternions keep of a section they keep of the volume, but for the
// dents that the straight edges of a wrung tube make: the share of the twist
// between two rings, squared.
func TestVolumeOfDualQuaternions(t *testing.T) {
	m := newTube(64, 257).mesh(along(Hat, 2))
	got := mustVolume(t, m, nil, upright, 0, 1).Ratio(DualQuaternion(nil, m, wrung(2, math.Pi/2)))
	require.InDelta(t, 1, got, 5e-4)
}

// Cut anywhere, parts add up, keep their volume when moved as a whole, and
// scale by the cube.
func volumeLaws(t *rapid.T) {
	m := newTube(12, 7).mesh(along(Hat, 2))
	whole := mustVolume(t, m, nil, upright, -0.5, 2)
	area := 6 * math.Sin(2*math.Pi/12)
	require.InDelta(t, area, whole.Rest(), 1e-12)
	place := rapid.OneOf(rapid.Float64Range(0.01, 0.99), rapid.SampledFrom([]float64{0.5, 1.0 / 6, 2.0 / 3}))
	u := place.Draw(t, "u")
	low, high := mustVolume(t, m, nil, upright, -0.5, u), mustVolume(t, m, nil, upright, u, 2)
	require.InDelta(t, area*u, low.Rest(), 1e-12)
	require.InDelta(t, area*(1-u), high.Rest(), 1e-12)

	posed := helix(m.Positions, 1.2, rapid.Float64Range(-3, 3).Draw(t, "twist"))
	require.InDelta(t, whole.Measure(posed), low.Measure(posed)+high.Measure(posed), 1e-12)
	f := genRigid().Draw(t, "f")
	require.InDelta(t, low.Measure(posed), low.Measure(moved(f, posed)), 1e-12)
	for i := range posed {
		posed[i] = r3.Scale(2, posed[i])
	}
	doubled := low.Measure(posed)
	for i := range posed {
		posed[i] = r3.Scale(0.5, posed[i])
	}
	require.Equal(t, 8*low.Measure(posed), doubled)
}

func TestVolumeLaws(t *testing.T) { rapid.Check(t, volumeLaws) }
func FuzzVolumeLaws(f *testing.F) { f.Fuzz(rapid.MakeFuzz(volumeLaws)) }

// Open where the limb's triangles end, the volume is closed there too; other
// limbs, seams and facing are as for sections.
func TestVolumeOfOtherMeshes(t *testing.T) {
	limb := newTube(24, 9).mesh(along(Hat, 2))
	joints := matrices(wrung(2, 1.5))
	want := mustVolume(t, limb, nil, upright, 0.2, 1).Ratio(Linear(nil, limb, joints))
	for name, m := range map[string]Mesh{
		"another limb": joined(beside(limb, r3.Vec{X: 3}, 1), limb),
		"seams":        torn(limb, false),
		"inwards":      torn(limb, true),
	} {
		v := mustVolume(t, m, nil, upright, 0.2, 1)
		require.InDelta(t, 0.8*12*math.Sin(2*math.Pi/24), math.Abs(v.Rest()), 1e-12, name)
		require.InDelta(t, want, v.Ratio(Linear(nil, m, joints)), 1e-12, name)
	}
	wall := make([]bool, len(limb.Triangles)) // without the caps
	for i, f := range limb.Triangles {
		wall[i] = f[0] < 24*9
	}
	v := mustVolume(t, limb, wall, upright, 0.2, 3)
	require.InDelta(t, 0.8*12*math.Sin(2*math.Pi/24), v.Rest(), 1e-12)
	require.InDelta(t, want, v.Ratio(Linear(nil, limb, joints)), 1e-12)

	none := mustVolume(t, limb, nil, Bone{Root: r3.Vec{X: 3}, End: r3.Vec{X: 3, Z: 1}}, 0.2, 0.4)
	require.Zero(t, none.Rest())
	require.True(t, math.IsNaN(none.Ratio(limb.Positions)))
}

func TestNewVolumeRefuses(t *testing.T) {
	m := newTube(8, 3).mesh(along(Hat, 2))
	for _, ends := range [][2]float64{{0.5, 0.5}, {1, 0}, {math.NaN(), 1}, {math.Inf(-1), 1}} {
		_, err := NewVolume(m, nil, upright, ends[0], ends[1])
		require.ErrorContains(t, err, "along the bone, expected the first before the second")
	}
	_, err := NewVolume(m, nil, Bone{}, 0, 1)
	require.ErrorContains(t, err, "expected two finite points apart")
}
