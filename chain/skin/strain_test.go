package skin

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

var one = [][3]int{{0, 1, 2}}

// Simple shear by g stretches by sqrt(1 + g²/4) ± g/2 and keeps the area (any
// text on continuum mechanics, from memory); for g = 1 these are the golden
// ratio and one less.
func TestStrainsOfSimpleShear(t *testing.T) {
	at := []r3.Vec{{X: 1, Y: 1}, {X: 3, Y: 1}, {X: 1.5, Y: 4}}
	for _, g := range []float64{0, 1e-9, 0.5, 1, 4} {
		posed := make([]r3.Vec, 3)
		for i, p := range at {
			posed[i] = r3.Vec{X: p.X + g*p.Y, Y: 0, Z: p.Y}
		}
		got := Strains(nil, at, posed, one)[0]
		require.InDelta(t, math.Sqrt(1+g*g/4)+g/2, got.Most, 64*eps)
		require.InDelta(t, math.Sqrt(1+g*g/4)-g/2, got.Least, 64*eps)
		require.InDelta(t, 1, got.Area, 64*eps)
		require.InDelta(t, math.Pi/2-2*math.Atan(got.Least/got.Most), got.Shear, 64*eps)
	}
	require.InDelta(t, math.Phi, Strains(nil, at, []r3.Vec{{X: 2, Y: 1}, {X: 4, Y: 1}, {X: 5.5, Y: 4}}, one)[0].Most, 64*eps)
}

// Second opinion: the singular values of the map, by gonum, and the greatest
// change of a right angle found by trying.
func strainsAgreeWithSVD(t *rapid.T) {
	c := rapid.Float64Range(-2, 2)
	// Rest in the plane, at least a tenth as high as long.
	a, b := r3.Vec{X: rapid.Float64Range(0.1, 2).Draw(t, "ax")}, r3.Vec{X: c.Draw(t, "bx"), Y: rapid.Float64Range(0.2, 2).Draw(t, "by")}
	x, y := genVec(2).Draw(t, "x"), genVec(2).Draw(t, "y")
	to := func(v r3.Vec) r3.Vec { return r3.Add(r3.Scale(v.X, x), r3.Scale(v.Y, y)) }
	f := genRigid().Draw(t, "f")
	rest := moved(f, []r3.Vec{{}, a, b})
	got := Strains(nil, rest, []r3.Vec{{}, to(a), to(b)}, one)[0]

	var svd mat.SVD
	require.True(t, svd.Factorize(mat.NewDense(3, 2, []float64{x.X, y.X, x.Y, y.Y, x.Z, y.Z}), mat.SVDNone))
	s := svd.Values(nil)
	// The posed triangle is made from rest coordinates; both are right to some
	// eps of 5 m, and the triangle may be a twentieth of that.
	const tolerance = 1e4 * eps
	require.InDelta(t, s[0], got.Most, tolerance)
	require.InDelta(t, s[1], got.Least, tolerance)
	require.InDelta(t, s[0]*s[1], got.Area, tolerance)
	require.InDelta(t, max(1-s[1], 0), got.Squeeze(), tolerance)
	if s[1] < 0.01 {
		return
	}
	var worst float64
	for k := range 360 {
		sin, cos := math.Sincos(math.Pi * float64(k) / 360)
		p, q := to(r3.Vec{X: cos, Y: sin}), to(r3.Vec{X: -sin, Y: cos})
		worst = max(worst, math.Abs(math.Pi/2-math.Atan2(r3.Norm(r3.Cross(p, q)), r3.Dot(p, q))))
	}
	require.LessOrEqual(t, worst, got.Shear+1e-9)
	require.InDelta(t, worst, got.Shear, 0.02*s[0]/s[1], "half degrees")
}

func TestStrainsAgreeWithSVD(t *testing.T) { rapid.Check(t, strainsAgreeWithSVD) }
func FuzzStrainsAgreeWithSVD(f *testing.F) { f.Fuzz(rapid.MakeFuzz(strainsAgreeWithSVD)) }

func TestStrainsSpecialCases(t *testing.T) {
	at := []r3.Vec{{}, {X: 1}, {Y: 1}}
	line := []r3.Vec{{}, {X: 1}, {X: 2}}
	bad := []r3.Vec{{}, {X: math.NaN()}, {Y: 1}}
	far := []r3.Vec{{}, {X: math.Inf(1)}, {Y: 1}}
	still := Strain{Most: 1, Least: 1, Area: 1}
	require.Equal(t, []Strain{still}, Strains(nil, at, at, one))
	require.Equal(t, []Strain{still}, Strains(nil, line, at, one), "no area at rest")
	require.Equal(t, []Strain{{}}, Strains(nil, at, make([]r3.Vec, 3), one), "to a point")
	pressed := Strains(nil, at, line, one)[0]
	require.InDelta(t, 0, pressed.Least, 1e-15)
	require.InDelta(t, math.Sqrt(5), pressed.Most, 1e-15)
	require.InDelta(t, math.Pi/2, pressed.Shear, 1e-15)
	require.Equal(t, 1.0, pressed.Squeeze())
	for _, posed := range [][]r3.Vec{bad, far, at[:2]} {
		for _, got := range [][]Strain{Strains(nil, at, posed, one), Strains(nil, posed, at, one)} {
			require.True(t, math.IsNaN(got[0].Most) && math.IsNaN(got[0].Least) && math.IsNaN(got[0].Area) && math.IsNaN(got[0].Shear))
			require.Zero(t, got[0].Squeeze())
		}
	}
}

func TestEdgeStretches(t *testing.T) {
	at := []r3.Vec{{}, {X: 3}, {Y: 4}, {}}
	posed := []r3.Vec{{}, {X: 6}, {Y: 4, Z: 3}, {X: 1}}
	got := EdgeStretches(nil, at, posed, [][3]int{{0, 1, 2}, {0, 3, 1}, {0, 1, 9}})
	require.InDeltaSlice(t, []float64{2, math.Sqrt(36+25) / 5, 1.25}, got[0][:], 4*eps)
	require.Equal(t, [3]float64{1, 5.0 / 3, 2}, got[1], "no length at rest")
	require.Equal(t, 2.0, got[2][0])
	require.True(t, math.IsNaN(got[2][1]) && math.IsNaN(got[2][2]))
}

// The bound, on triangles whose posed edges are exact: stretched by powers of
// two along the axes, with a corner at the origin.
func TestStrainsError(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	var worst float64
	for range 20000 {
		rest := []r3.Vec{{}, {X: r.NormFloat64(), Y: r.NormFloat64()}, {X: r.NormFloat64(), Y: r.NormFloat64()}}
		if r.IntN(2) == 0 { // a sliver
			rest[2] = r3.Add(rest[1], r3.Scale(math.Exp2(-20*r.Float64()), rest[2]))
		}
		x, y := math.Ldexp(1, r.IntN(8)-4), math.Ldexp(1, r.IntN(8)-4)
		posed := []r3.Vec{{}, {X: x * rest[1].X, Y: y * rest[1].Y}, {X: x * rest[2].X, Y: y * rest[2].Y}}
		got := Strains(nil, rest, posed, one)[0]
		sine := r3.Norm(r3.Cross(rest[1], rest[2])) / (r3.Norm(rest[1]) * r3.Norm(rest[2]))
		off := max(math.Abs(got.Most-max(x, y)), math.Abs(got.Least-min(x, y)))
		worst = max(worst, off/max(x, y)*sine)
	}
	t.Logf("worst error: %.2f eps of Most over the sine", worst/eps)
	require.LessOrEqual(t, worst, 4*eps) // twice what is seen
}
