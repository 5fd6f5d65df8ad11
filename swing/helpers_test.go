package swing_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Tolerances for values that a few float64 operations separate.
const (
	componentTolerance = 1e-14 // components of unit quaternions and vectors
	angleTolerance     = 1e-12 // radians
	degree             = math.Pi / 180
)

var (
	axisX = r3.Vec{X: 1}
	axisY = r3.Vec{Y: 1}
	axisZ = r3.Vec{Z: 1}

	one    = quat.Number{Real: 1}
	nan    = math.NaN()
	inf    = math.Inf(1)
	denorm = 5e-324
)

func TestMain(m *testing.M) {
	draw.FixSeed()
	m.Run()
}

// rotate is the definition, q v q*.
func rotate(q quat.Number, v r3.Vec) r3.Vec {
	p := quat.Mul(quat.Mul(q, quat.Number{Imag: v.X, Jmag: v.Y, Kmag: v.Z}), quat.Conj(q))
	return r3.Vec{X: p.Imag, Y: p.Jmag, Z: p.Kmag}
}

// off is the largest difference of a component between q and the nearer of r
// and -r; NaN if any is.
func off(q, r quat.Number) float64 {
	far := func(d quat.Number) float64 {
		return max(math.Abs(d.Real), math.Abs(d.Imag), math.Abs(d.Jmag), math.Abs(d.Kmag))
	}
	return min(far(quat.Sub(q, r)), far(quat.Add(q, r)))
}

// angleOf returns the angle of a rotation, 0 to pi, by 2 atan2(|v|, |w|).
func angleOf(q quat.Number) float64 {
	return 2 * math.Atan2(r3.Norm(r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}), math.Abs(q.Real))
}

// between is the angle between two directions, without acos.
func between(v, w r3.Vec) float64 { return math.Atan2(r3.Norm(r3.Cross(v, w)), r3.Dot(v, w)) }

// about returns the signed angle of a rotation that keeps axis.
func about(q quat.Number, axis r3.Vec) float64 {
	p := r3.Dot(r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}, r3.Unit(axis))
	return math.Remainder(2*math.Atan2(p, q.Real), 2*math.Pi)
}

// mustArc is swing.Arc where it has to be determined.
func mustArc(t testing.TB, from, to r3.Vec) quat.Number {
	t.Helper()
	q, determined := swing.Arc(from, to)
	require.True(t, determined)
	return q
}

func requireRotation(t *testing.T, want, got quat.Number, tolerance float64, about ...any) {
	t.Helper()
	if o := off(want, got); !(o <= tolerance) {
		require.Failf(t, "rotations differ", "want %v, got %v, off by %g: %v", want, got, o, about)
	}
}

func requireVec(t *testing.T, want, got r3.Vec, tolerance float64, about ...any) {
	t.Helper()
	d := r3.Sub(want, got)
	if o := max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)); !(o <= tolerance) {
		require.Failf(t, "vectors differ", "want %v, got %v, off by %g: %v", want, got, o, about)
	}
}

func isNaN(v r3.Vec) bool { return math.IsNaN(v.X) && math.IsNaN(v.Y) && math.IsNaN(v.Z) }

// polar is the unit direction at angle theta from z, at phi around it.
func polar(theta, phi float64) r3.Vec {
	st, ct := math.Sincos(theta)
	sp, cp := math.Sincos(phi)
	return r3.Vec{X: st * cp, Y: st * sp, Z: ct}
}
