package twist_test

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// The tests of this file hold our conventions, and those of the two libraries
// whose types we share, to the classical identities: Hamilton 1843, Rodrigues
// 1840, Shoemake 1985 (from memory). mathgl is a second opinion.

func toMgl(q quat.Number) mgl64.Quat {
	return mgl64.Quat{W: q.Real, V: mgl64.Vec3{q.Imag, q.Jmag, q.Kmag}}
}

func fromMgl(q mgl64.Quat) quat.Number { return number(q.W, q.V[0], q.V[1], q.V[2]) }

// TestHamiltonProduct is exact in integers (Hamilton 1843).
func TestHamiltonProduct(t *testing.T) {
	a, b := number(1, 2, 3, 4), number(5, 6, 7, 8)
	require.Equal(t, number(-60, 12, 30, 24), quat.Mul(a, b))
	require.Equal(t, number(-60, 20, 14, 32), quat.Mul(b, a))
	require.Equal(t, number(-60, 12, 30, 24), fromMgl(toMgl(a).Mul(toMgl(b))))
	norm2 := func(q quat.Number) float64 { return quat.Mul(q, quat.Conj(q)).Real }
	require.Equal(t, 30.0, norm2(a))
	require.Equal(t, 174.0, norm2(b))
	require.Equal(t, 5220.0, norm2(quat.Mul(a, b)))
}

// TestActiveRightHanded: v' = q v q*, right-handed, the right factor first.
func TestActiveRightHanded(t *testing.T) {
	third := twist.About(r3.Vec{X: 1, Y: 1, Z: 1}, 120*degree)
	requireVec(t, r3.Vec{X: 3, Y: 1, Z: 2}, rotate(third, r3.Vec{X: 1, Y: 2, Z: 3}), componentTolerance)
	m := toMgl(third).Rotate(mgl64.Vec3{1, 2, 3})
	requireVec(t, r3.Vec{X: 3, Y: 1, Z: 2}, r3.Vec{X: m[0], Y: m[1], Z: m[2]}, componentTolerance)
	requireVec(t, axisY, rotate(twist.About(axisZ, 90*degree), axisX), componentTolerance)
	q := quat.Mul(twist.About(axisY, 90*degree), twist.About(axisX, 90*degree))
	requireRotation(t, number(0.5, 0.5, 0.5, -0.5), q, componentTolerance)
	requireVec(t, axisX, rotate(q, axisY), componentTolerance, "x first takes y to z, then y takes z to x")
}

// TestRodriguesComposition: Rodrigues 1840, a about n1 and then b about n2.
func TestRodriguesComposition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-2*math.Pi, 2*math.Pi)
		a, b := angle.Draw(t, "a"), angle.Draw(t, "b")
		n1, n2 := draw.Unit().Draw(t, "n1"), draw.Unit().Draw(t, "n2")
		sa, ca := math.Sincos(a / 2)
		sb, cb := math.Sincos(b / 2)
		v := r3.Add(r3.Add(r3.Scale(sa*cb, n1), r3.Scale(ca*sb, n2)), r3.Scale(-sa*sb, r3.Cross(n1, n2)))
		want := number(ca*cb-sa*sb*r3.Dot(n1, n2), v.X, v.Y, v.Z)
		got := quat.Mul(twist.About(n2, b), twist.About(n1, a))
		if o := off(want, got); o > componentTolerance {
			t.Fatalf("want %v, got %v", want, got)
		}
		m := mgl64.QuatRotate(b, mgl64.Vec3{n2.X, n2.Y, n2.Z}).Mul(mgl64.QuatRotate(a, mgl64.Vec3{n1.X, n1.Y, n1.Z}))
		if o := off(fromMgl(m), got); o > componentTolerance {
			t.Fatalf("mathgl %v, got %v", m, got)
		}
	})
}

// TestExpLog: the exponential of half the rotation vector and its inverse
// (Shoemake 1985, from memory).
func TestExpLog(t *testing.T) {
	half := number(0, 0.25, 0.5, 0.5)
	q := quat.Exp(half)
	requireRotation(t, number(0.731688868874, 0.227212920008, 0.454425840016, 0.454425840016), q, printedTolerance)
	requireRotation(t, half, quat.Log(q), componentTolerance)
	axis := r3.Vec{X: 1, Y: 2, Z: 2}
	requireRotation(t, q, twist.About(axis, 1.5), componentTolerance)
	for _, k := range []float64{0, 0.3, 1, -1, 2} {
		want := quat.Exp(quat.Scale(k, quat.Log(q)))
		power, defined := twist.Power(q, axis, k)
		require.True(t, defined)
		requireRotation(t, want, power, componentTolerance, k)
		requireRotation(t, want, quat.PowReal(q, k), componentTolerance, k)
	}
}

// TestSlerp: spherical and normalised linear interpolation (Shoemake 1985).
// About one axis slerp is a power.
func TestSlerp(t *testing.T) {
	one := number(1, 0, 0, 0)
	slerp := func(q quat.Number, k float64) quat.Number { // from the identity
		o := math.Atan2(r3.Norm(r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}), q.Real)
		return quat.Add(quat.Scale(math.Sin((1-k)*o)/math.Sin(o), one), quat.Scale(math.Sin(k*o)/math.Sin(o), q))
	}
	quarter := twist.About(axisZ, 90*degree)
	third, _ := twist.Power(quarter, axisZ, 1.0/3)
	requireRotation(t, twist.About(axisZ, 30*degree), third, componentTolerance)
	requireRotation(t, slerp(quarter, 1.0/3), third, componentTolerance)
	requireRotation(t, fromMgl(mgl64.QuatSlerp(mgl64.QuatIdent(), toMgl(quarter), 1.0/3)), third, componentTolerance)
	for _, c := range []struct{ angle, lerp, slerp float64 }{
		{60, 14.738520, 15}, {90, 21.598161, 22.5}, {120, 27.795772, 30}, {180, 36.869898, 45},
	} {
		q := twist.About(axisZ, c.angle*degree)
		mixed := quat.Add(quat.Scale(0.75, one), quat.Scale(0.25, q))
		require.InDelta(t, c.lerp, mustAngle(t, mixed, axisZ)/degree, 6e-7)
		power, _ := twist.Power(q, axisZ, 0.25)
		require.InDelta(t, c.slerp, mustAngle(t, power, axisZ)/degree, 1e-10)
		mgl := mgl64.QuatNlerp(mgl64.QuatIdent(), toMgl(q), 0.25)
		requireRotation(t, unit(mixed), fromMgl(mgl), componentTolerance)
	}
}
