package twist_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Tolerances for values that are published to 12 digits or that a few float64
// operations separate.
const (
	componentTolerance = 1e-14 // components of unit quaternions and vectors
	angleTolerance     = 1e-12 // radians
	printedTolerance   = 6e-13 // half a unit of the twelfth decimal, and rounding
	degree             = math.Pi / 180
)

var (
	axisX = r3.Vec{X: 1}
	axisY = r3.Vec{Y: 1}
	axisZ = r3.Vec{Z: 1}
)

func TestMain(m *testing.M) {
	draw.FixSeed()
	m.Run()
}

// number is a quaternion by its components.
func number(w, x, y, z float64) quat.Number {
	return quat.Number{Real: w, Imag: x, Jmag: y, Kmag: z}
}

// product multiplies rotations in the order written: the last is applied first.
func product(first quat.Number, rest ...quat.Number) quat.Number {
	for _, q := range rest {
		first = quat.Mul(first, q)
	}
	return first
}

func unit(q quat.Number) quat.Number { return quat.Scale(1/quat.Abs(q), q) }

// rotate is the definition, q v q*.
func rotate(q quat.Number, v r3.Vec) r3.Vec {
	p := product(q, number(0, v.X, v.Y, v.Z), quat.Conj(q))
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

// requireRotation compares up to sign.
func requireRotation(t *testing.T, want, got quat.Number, tolerance float64, about ...any) {
	t.Helper()
	if o := off(want, got); !(o <= tolerance) {
		require.Failf(t, "rotations differ", "want %v, got %v, off by %g: %v", want, got, o, about)
	}
}

// requireVec compares component by component.
func requireVec(t *testing.T, want, got r3.Vec, tolerance float64, about ...any) {
	t.Helper()
	d := r3.Sub(want, got)
	if o := max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)); !(o <= tolerance) {
		require.Failf(t, "vectors differ", "want %v, got %v, off by %g: %v", want, got, o, about)
	}
}

// angleOf returns the angle of a rotation, 0 to pi, by 2 atan2(|v|, |w|).
func angleOf(q quat.Number) float64 {
	return 2 * math.Atan2(r3.Norm(r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}), math.Abs(q.Real))
}

// wrap brings an angle to [-pi, pi].
func wrap(angle float64) float64 { return math.Remainder(angle, 2*math.Pi) }

// mustAngle is twist.Angle where it has to be defined.
func mustAngle(t *testing.T, q quat.Number, axis r3.Vec) float64 {
	t.Helper()
	angle, defined := twist.Angle(q, axis)
	require.True(t, defined)
	return angle
}

// mustSplit is twist.Split where it has to be defined.
func mustSplit(t *testing.T, q quat.Number, axis r3.Vec) twist.Parts {
	t.Helper()
	parts, defined := twist.Split(q, axis)
	require.True(t, defined)
	return parts
}

func TestOffSeesEveryComponent(t *testing.T) {
	q := number(0.5, 0.5, 0.5, 0.5)
	require.Zero(t, off(q, quat.Scale(-1, q)))
	for _, d := range []quat.Number{{Real: 0.25}, {Imag: 0.25}, {Jmag: 0.25}, {Kmag: 0.25}} {
		require.Equal(t, 0.25, off(q, quat.Add(q, d)))
		require.Equal(t, 0.25, off(q, quat.Sub(quat.Scale(-1, q), d)))
	}
	require.True(t, math.IsNaN(off(q, quat.NaN())))
}
