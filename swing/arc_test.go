package swing_test

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/internal/oracle"
	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestArcTable(t *testing.T) {
	h := math.Sqrt(0.5)
	big := math.MaxFloat64
	for _, c := range []struct {
		name       string
		from, to   r3.Vec
		want       quat.Number
		determined bool
	}{
		{"same", axisX, axisX, one, true},
		{"quarter turn", axisX, axisY, quat.Number{Real: h, Kmag: h}, true},
		{"quarter turn back", axisY, axisX, quat.Number{Real: h, Kmag: -h}, true},
		{"135 degrees", axisX, r3.Vec{X: -1, Y: 1}, quat.Number{Real: math.Cos(67.5 * degree), Kmag: math.Sin(67.5 * degree)}, true},
		{"any length", r3.Vec{X: 3}, r3.Vec{Z: 1e-9}, quat.Number{Real: h, Jmag: -h}, true},
		{"largest", r3.Vec{X: big}, r3.Vec{Y: big}, quat.Number{Real: h, Kmag: h}, true},
		{"largest past a right angle", r3.Vec{X: big}, r3.Vec{X: -big, Y: big}, quat.Number{Real: math.Cos(67.5 * degree), Kmag: math.Sin(67.5 * degree)}, true},
		{"subnormal", r3.Vec{X: denorm}, r3.Vec{Y: denorm}, quat.Number{Real: h, Kmag: h}, true},
		{"opposite x", axisX, r3.Vec{X: -1}, quat.Number{Kmag: 1}, false},
		{"opposite y", axisY, r3.Vec{Y: -2}, quat.Number{Kmag: -1}, false},
		{"opposite z", axisZ, r3.Vec{Z: -1}, quat.Number{Jmag: 1}, false},
		{"opposite in general", r3.Vec{X: 3, Y: 1, Z: 4}, r3.Vec{X: -6, Y: -2, Z: -8}, quat.Number{Imag: -0.8, Kmag: 0.6}, false},
		{"opposite, another length", r3.Vec{X: 3, Y: 1, Z: 4}, r3.Vec{X: -9, Y: -3, Z: -12}, quat.Number{Imag: -0.8, Kmag: 0.6}, false},
		{"opposite, largest", r3.Vec{X: big, Y: big}, r3.Vec{X: -big, Y: -big}, quat.Number{Imag: h, Jmag: -h}, false},
		{"zero from", r3.Vec{}, axisX, one, false},
		{"zero to", axisX, r3.Vec{}, one, false},
		{"zero both", r3.Vec{}, r3.Vec{}, one, false},
	} {
		got, determined := swing.Arc(c.from, c.to)
		require.Equal(t, c.determined, determined, c.name)
		// The sign counts where the real part is 0.
		require.LessOrEqual(t, quat.Abs(quat.Sub(c.want, got)), 4*0x1p-53, "%s: %v", c.name, got)
	}
}

func TestArcNotFinite(t *testing.T) {
	for _, bad := range []float64{nan, inf, -inf} {
		for _, v := range []r3.Vec{{X: bad}, {Y: bad}, {Z: bad}, {X: bad, Y: 1, Z: -bad}} {
			for _, w := range []r3.Vec{axisX, {}, v} {
				for _, pair := range [][2]r3.Vec{{v, w}, {w, v}} {
					got, determined := swing.Arc(pair[0], pair[1])
					require.False(t, determined)
					require.True(t, quat.IsNaN(got))
				}
			}
		}
	}
}

// TestArcExactIdentity: equal inputs, and inputs equal up to a power of two,
// whatever the roundings of their lengths.
func TestArcExactIdentity(t *testing.T) {
	for _, v := range []r3.Vec{{X: 1, Y: 2, Z: 3}, {X: 0.1, Y: -0.7, Z: 0.3}, {X: 1e-9, Y: 1, Z: -1e-3}, {X: 1. / 3, Y: 1. / 7, Z: 1. / 11}} {
		for _, e := range []int{0, 1, -1, 60, -300, 500, -500, 900, -950} {
			got := mustArc(t, v, r3.Scale(math.Ldexp(1, e), v))
			require.Equal(t, one, got, "%v, 2^%d", v, e)
		}
	}
}

// TestArcNearOpposite: the errors that Reynolds 2016
// (marc-b-reynolds.github.io/quaternions/2016/08/09/TwoNormToRot.html)
// measured for the plain half vector at a gap from opposite, 5e-13 at 1e-4 and
// 9e-11 at 1e-6, and the bound min(2 gap, 4 eps/gap) are met with room to
// spare: the aim does not degrade at all.
func TestArcNearOpposite(t *testing.T) {
	for _, from := range []r3.Vec{axisZ, {X: 1, Y: 2, Z: 3}, {X: -0.3, Y: 0.2, Z: 0.9}} {
		from = r3.Unit(from)
		side, ok := swing.Perpendicular(from)
		require.True(t, ok)
		for _, gap := range []float64{1e-1, 1e-2, 1e-4, 1e-6, 1e-8, 1e-10, 1e-12, 1e-13, 1e-14, 1e-15, 1e-16, 0} {
			to := r3.Add(r3.Scale(-math.Cos(gap), from), r3.Scale(math.Sin(gap), side))
			q, determined := swing.Arc(from, to)
			arrived := oracle.FromQuat(q).Rotate(oracle.FromVec(from))
			missed := arrived.Angle(oracle.FromVec(to)).Float64()
			if gap >= 1e-14 { // four times the least that is told apart
				require.True(t, determined, "gap %g", gap)
				require.LessOrEqual(t, missed, swing.MaxArcError, "gap %g", gap)
			} else {
				require.LessOrEqual(t, missed, 2*swing.MinCondition+swing.MaxArcError, "gap %g", gap)
			}
			if gap <= 1e-15 {
				require.False(t, determined, "gap %g", gap)
			}
		}
	}
}

// TestArcHalfVector compares with the closed form (a·h, a×h) and, as a second
// opinion, with mathgl, away from opposite directions.
func TestArcHalfVector(t *testing.T) {
	for _, pair := range [][2]r3.Vec{{axisX, axisY}, {{X: 1, Y: 2, Z: 3}, {X: -1, Y: 1, Z: 0.5}}, {{X: 1, Z: 1e-3}, {X: -1, Y: 0.2, Z: 0.1}}} {
		a, b := r3.Unit(pair[0]), r3.Unit(pair[1])
		h := r3.Unit(r3.Add(a, b))
		v := r3.Cross(a, h)
		got := mustArc(t, pair[0], pair[1])
		requireRotation(t, quat.Number{Real: r3.Dot(a, h), Imag: v.X, Jmag: v.Y, Kmag: v.Z}, got, componentTolerance)
		m := mgl64.QuatBetweenVectors(mgl64.Vec3{a.X, a.Y, a.Z}, mgl64.Vec3{b.X, b.Y, b.Z})
		requireRotation(t, quat.Number{Real: m.W, Imag: m.V[0], Jmag: m.V[1], Kmag: m.V[2]}, got, componentTolerance)
	}
}

func TestPerpendicular(t *testing.T) {
	for _, c := range []struct{ v, want r3.Vec }{
		{axisX, r3.Vec{Z: 1}},
		{axisY, r3.Vec{Z: -1}},
		{axisZ, r3.Vec{Y: 1}},
		{r3.Vec{X: 3, Y: 1, Z: 4}, r3.Vec{X: -0.8, Z: 0.6}},
		{r3.Vec{X: 3e300, Y: 4e300, Z: -1e299}, r3.Vec{X: 0.8, Y: -0.6}},
		{r3.Vec{Y: denorm}, r3.Vec{Z: -1}},
	} {
		got, ok := swing.Perpendicular(c.v)
		require.True(t, ok)
		requireVec(t, c.want, got, componentTolerance, c.v)
	}
	got, ok := swing.Perpendicular(r3.Vec{})
	require.False(t, ok)
	require.Equal(t, r3.Vec{}, got)
	got, ok = swing.Perpendicular(r3.Vec{X: 1, Y: nan})
	require.False(t, ok)
	require.True(t, isNaN(got))
}
