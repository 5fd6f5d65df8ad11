package swing_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// helix is one turn of (r cos u, r sin u, c u) in n steps: points and tangents.
func helix(r, c float64, n int) (points, tangents []r3.Vec) {
	for i := range n + 1 {
		s, k := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		points = append(points, r3.Vec{X: r * k, Y: r * s, Z: c * 2 * math.Pi * float64(i) / float64(n)})
		tangents = append(tangents, r3.Vec{X: -r * s, Y: r * k, Z: c})
	}
	return points, tangents
}

// turnedAtEnd returns the signed angle about the tangent at the end of one turn
// of a helix from its Frenet normal, (-1, 0, 0) at both ends, to v.
func turnedAtEnd(v, tangent r3.Vec) float64 {
	normal := r3.Vec{X: -1}
	return math.Atan2(r3.Dot(v, r3.Cross(r3.Unit(tangent), normal)), r3.Dot(v, normal))
}

// exactTurn is how far a frame without roll turns against the Frenet frame over
// one turn: dψ/ds = -torsion, so -2 pi c / sqrt(r² + c²). Bishop 1975, "There
// is more than one way to frame a curve", Amer Math Monthly 82:246-251
// (formula from memory).
func exactTurn(r, c float64) float64 { return -2 * math.Pi * c / math.Hypot(r, c) }

// TestHelix: the error of double reflection on a helix, which falls with the
// fourth power of the step, and for comparison that of chained shortest arcs,
// which falls with the second. The orders are those of Wang, Jüttler, Zheng and
// Liu 2008, doi 10.1145/1330511.1330513; the values were computed apart.
func TestHelix(t *testing.T) {
	var last, lastArcs float64
	for _, c := range []struct {
		n            int
		double, arcs float64
	}{
		{8, -5.849672e-4, -1.159031e-1},
		{16, -3.665382e-5, -2.865719e-2},
		{32, -2.292412e-6, -7.143830e-3},
		{64, -1.433003e-7, -1.784670e-3},
		{128, -8.956652e-9, -4.460870e-4},
	} {
		points, tangents := helix(1, 1, c.n)
		end := tangents[c.n]
		references := swing.Transport(nil, points, tangents, r3.Vec{X: -1})
		require.Len(t, references, c.n+1)
		double := math.Remainder(turnedAtEnd(references[c.n], end)-exactTurn(1, 1), 2*math.Pi)
		require.InEpsilon(t, c.double, double, 1e-5, "n = %d", c.n)

		v := r3.Vec{X: -1}
		for i := range c.n {
			v = rotate(mustArc(t, tangents[i], tangents[i+1]), v)
		}
		arcs := math.Remainder(turnedAtEnd(v, end)-exactTurn(1, 1), 2*math.Pi)
		require.InEpsilon(t, c.arcs, arcs, 1e-5, "n = %d", c.n)
		if c.n >= 32 {
			require.InEpsilon(t, 16, last/double, 0.03)
			require.InEpsilon(t, 4, lastArcs/arcs, 0.03)
		}
		last, lastArcs = double, arcs
	}
}

// TestBishop: the turn against the Frenet frame over one turn of a helix
// (Bishop 1975, formula from memory).
func TestBishop(t *testing.T) {
	for _, c := range []struct{ r, c, want float64 }{
		{1, 1, -4.442882938158}, {1, 0.5, -2.809925892416},
	} {
		require.InDelta(t, c.want, exactTurn(c.r, c.c), 1e-12)
		points, tangents := helix(c.r, c.c, 1024)
		references := swing.Transport(nil, points, tangents, r3.Vec{X: -1})
		got := turnedAtEnd(references[1024], tangents[1024])
		// Fourth order: 9e-9 at 128 steps is 2e-12 at 1024, and as much rounding.
		require.InDelta(t, 0, math.Remainder(got-c.want, 2*math.Pi), 1e-11)
	}
}

// TestTransportPlane: in a plane the normal of the plane stays (no torsion),
// and along a straight line everything does.
func TestTransportPlane(t *testing.T) {
	var points, tangents, line, along []r3.Vec
	for i := range 20 {
		s, c := math.Sincos(float64(i) * 0.3)
		points, tangents = append(points, r3.Vec{X: 2 * c, Y: 2 * s}), append(tangents, r3.Vec{X: -s, Y: c})
		line, along = append(line, r3.Vec{X: float64(i * i)}), append(along, axisX)
	}
	for _, r := range swing.Transport(nil, points, tangents, axisZ) {
		requireVec(t, axisZ, r, componentTolerance)
	}
	for _, r := range swing.Transport(nil, line, along, r3.Vec{Y: 0.6, Z: 0.8}) {
		requireVec(t, r3.Vec{Y: 0.6, Z: 0.8}, r, componentTolerance)
	}
}

func TestTransportStart(t *testing.T) {
	points, tangents := []r3.Vec{{}}, []r3.Vec{{Z: 5}}
	for _, c := range []struct{ start, want r3.Vec }{
		{axisX, axisX},
		{r3.Vec{X: 3e300, Z: 9e300}, axisX},        // the part across
		{r3.Vec{X: -1, Z: 1e7}, r3.Vec{X: -1}},     // nearly along
		{axisZ, axisY},                             // none across: Perpendicular
		{r3.Vec{}, axisY},                          // none at all
		{r3.Vec{X: denorm}, axisX},                 // subnormal
		{r3.Vec{X: 3, Y: 4}, r3.Vec{X: .6, Y: .8}}, // any length
	} {
		got := swing.Transport(nil, points, tangents, c.start)
		requireVec(t, c.want, got[0], 1e-9, c.start) // 1e7 along costs as many digits
	}
	require.True(t, isNaN(swing.Transport(nil, points, tangents, r3.Vec{X: nan})[0]))
}

// TestTransportDegenerate: steps that have no two mirrors, and points that are
// no points.
func TestTransportDegenerate(t *testing.T) {
	t.Run("standing still", func(t *testing.T) {
		got := swing.Transport(nil, []r3.Vec{axisX, axisX}, []r3.Vec{axisZ, axisX}, axisX)
		requireVec(t, r3.Vec{Z: -1}, got[1], componentTolerance, "the arc from z to x carries x to -z")
	})
	t.Run("sliding sideways", func(t *testing.T) {
		got := swing.Transport(nil, []r3.Vec{{}, axisX}, []r3.Vec{axisZ, axisZ}, r3.Vec{X: 0.6, Y: 0.8})
		requireVec(t, r3.Vec{X: 0.6, Y: 0.8}, got[1], componentTolerance)
	})
	t.Run("turning back on the spot", func(t *testing.T) {
		got := swing.Transport(nil, []r3.Vec{{}, {}}, []r3.Vec{axisZ, {Z: -1}}, axisY)
		requireVec(t, rotate(quat.Number{Jmag: 1}, axisY), got[1], componentTolerance, "half a turn about Perpendicular(z) = y")
	})
	t.Run("points that are none", func(t *testing.T) {
		points, tangents := helix(1, 1, 8)
		want := swing.Transport(nil, append(append([]r3.Vec{}, points[:3]...), points[4:]...),
			append(append([]r3.Vec{}, tangents[:3]...), tangents[4:]...), axisX)
		for name, spoil := range map[string]func(p, t *r3.Vec){
			"NaN point":    func(p, t *r3.Vec) { p.Y = nan },
			"Inf point":    func(p, t *r3.Vec) { p.Z = inf },
			"NaN tangent":  func(p, t *r3.Vec) { t.X = nan },
			"Inf tangent":  func(p, t *r3.Vec) { t.X = -inf },
			"zero tangent": func(p, t *r3.Vec) { *t = r3.Vec{} },
		} {
			p, d := append([]r3.Vec{}, points...), append([]r3.Vec{}, tangents...)
			spoil(&p[3], &d[3])
			got := swing.Transport(nil, p, d, axisX)
			require.True(t, isNaN(got[3]), name)
			require.Equal(t, want[:3], got[:3], name)
			require.Equal(t, want[3:], got[4:], name)
		}
	})
	t.Run("sliding sideways, to a rounding", func(t *testing.T) {
		got := swing.Transport(nil, []r3.Vec{{}, axisX}, []r3.Vec{axisZ, {X: 1e-16, Y: 1e-16, Z: 1}}, r3.Vec{X: 0.6, Y: 0.8})
		requireVec(t, r3.Vec{X: 0.6, Y: 0.8}, got[1], componentTolerance)
	})
	t.Run("farther apart than the largest number", func(t *testing.T) {
		points, tangents := helix(1, 0.25, 2)
		want := swing.Transport(nil, points, tangents, r3.Vec{X: 1, Z: 0.2})
		for i, p := range points {
			points[i] = r3.Scale(0x1p+1023, p)
		}
		for i, r := range swing.Transport(nil, points, tangents, r3.Vec{X: 1, Z: 0.2}) {
			requireVec(t, want[i], r, componentTolerance)
		}
	})
}

// TestTransportDst: in place, into a longer slice, into a shorter one, and with
// inputs of different lengths.
func TestTransportDst(t *testing.T) {
	points, tangents := helix(1, 0.5, 6)
	want := swing.Transport(nil, points, tangents, axisX)
	long := make([]r3.Vec, 10)
	require.Equal(t, want, swing.Transport(long, points, tangents, axisX))
	require.Equal(t, want[2], long[2], "used")
	require.Equal(t, want, swing.Transport(make([]r3.Vec, 1), points, tangents, axisX))
	require.Equal(t, want[:4], swing.Transport(nil, points[:4], tangents, axisX))
	require.Equal(t, want[:4], swing.Transport(nil, points, tangents[:4], axisX))
	require.Empty(t, swing.Transport(nil, nil, tangents, axisX))
	p := append([]r3.Vec{}, points...)
	require.Equal(t, want, swing.Transport(p, p, tangents, axisX))
	require.Equal(t, want, swing.Transport(tangents, points, tangents, axisX))
}
