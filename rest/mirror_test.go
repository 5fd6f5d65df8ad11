package rest

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func bits(f Frame) [7]uint64 {
	p, q := f.Position, f.Rotation
	var out [7]uint64
	for i, c := range [7]float64{p.X, p.Y, p.Z, q.Real, q.Imag, q.Jmag, q.Kmag} {
		out[i] = math.Float64bits(c)
	}
	return out
}

// Any float64 at all, infinities, NaN and negative zeros included.
func mirrorTwice(t *rapid.T) {
	any := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Copysign(0, -1), 5e-324}))
	draw := func(label string) float64 { return any.Draw(t, label) }
	f := Frame{
		Position: r3.Vec{X: draw("px"), Y: draw("py"), Z: draw("pz")},
		Rotation: quat.Number{Real: draw("w"), Imag: draw("x"), Jmag: draw("y"), Kmag: draw("z")},
	}
	for _, p := range []Plane{AcrossX, AcrossY, AcrossZ, Plane(7)} {
		require.Equal(t, bits(f), bits(p.Frame(p.Frame(f))))
	}
}

func TestMirrorTwice(t *testing.T) { rapid.Check(t, mirrorTwice) }
func FuzzMirrorTwice(f *testing.F) { f.Fuzz(rapid.MakeFuzz(mirrorTwice)) }

// Equality here is ==, exact but for the sign of a zero.
func mirrorCommutes(t *rapid.T) {
	f, g, v := genFrame().Draw(t, "f"), genFrame().Draw(t, "g"), genVec().Draw(t, "v")
	for _, p := range []Plane{AcrossX, AcrossY, AcrossZ} {
		require.True(t, p.Frame(f.Mul(g)) == p.Frame(f).Mul(p.Frame(g)), "product")
		require.True(t, p.Frame(Offset(f, g)) == Offset(p.Frame(f), p.Frame(g)), "offset")
		require.True(t, p.Frame(f.Inverse()) == p.Frame(f).Inverse(), "inverse")
		require.True(t, p.Rotation(quat.Mul(f.Rotation, g.Rotation)) == quat.Mul(p.Rotation(f.Rotation), p.Rotation(g.Rotation)))
		require.True(t, p.Vec(f.Point(v)) == p.Frame(f).Point(p.Vec(v)), "turned point")
	}
}

func TestMirrorCommutes(t *testing.T) { rapid.Check(t, mirrorCommutes) }
func FuzzMirrorCommutes(f *testing.F) { f.Fuzz(rapid.MakeFuzz(mirrorCommutes)) }

// M R M with the mirror's matrix M, entry by entry.
func TestMirrorRotationIsConjugation(t *testing.T) {
	q := unit(quat.Number{Real: 1, Imag: 2, Jmag: 3, Kmag: 4})
	for p, sign := range map[Plane][3]float64{AcrossX: {-1, 1, 1}, AcrossY: {1, -1, 1}, AcrossZ: {1, 1, -1}} {
		plain, mirrored := mat3(q), mat3(p.Rotation(q))
		for column := range 3 {
			for row := range 3 {
				require.Equal(t, sign[row]*plain[3*column+row]*sign[column], mirrored[3*column+row], "plane %d", p)
			}
		}
	}
}

func TestMirrorUnknownPlane(t *testing.T) {
	f := Frame{Position: r3.Vec{X: 1, Y: 2, Z: 3}, Rotation: quat.Number{Real: 1, Imag: 2, Jmag: 3, Kmag: 4}}
	require.Equal(t, f, Plane(-1).Frame(f))
}
