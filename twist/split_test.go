package twist_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

var (
	nan    = math.NaN()
	inf    = math.Inf(1)
	denorm = 5e-324
)

// TestSplitTable holds the special cases, exactly.
func TestSplitTable(t *testing.T) {
	one := number(1, 0, 0, 0)
	half := math.Sqrt(0.5)
	for _, c := range []struct {
		name      string
		q         quat.Number
		axis      r3.Vec
		swing     quat.Number
		twist     quat.Number
		condition float64
		defined   bool
	}{
		{"identity", one, axisZ, one, one, 1, true},
		{"minus identity", number(-1, 0, 0, 0), axisZ, one, one, 1, true},
		{"pure twist", number(0.6, 0, 0, 0.8), axisZ, one, number(0.6, 0, 0, 0.8), 1, true},
		{"pure twist, negative", number(-0.6, 0, 0, 0.8), axisZ, one, number(0.6, 0, 0, -0.8), 1, true},
		{"half-turn twist", number(0, 0, 0, 1), axisZ, one, number(0, 0, 0, 1), 1, true},
		{"half-turn twist, the other sign", number(0, 0, 0, -1), axisZ, one, number(0, 0, 0, 1), 1, true},
		{"half-turn twist about -z", number(0, 0, 0, 1), r3.Vec{Z: -1}, one, number(0, 0, 0, -1), 1, true},
		{"pure swing", number(0.6, 0.8, 0, 0), axisZ, number(0.6, 0.8, 0, 0), one, 0.6, true},
		{"half-turn swing", number(0, 1, 0, 0), axisZ, number(0, 1, 0, 0), one, 0, false},
		{"half-turn swing, the other sign", number(0, -1, 0, 0), axisZ, number(0, 1, 0, 0), one, 0, false},
		{"half-turn swing, canonical by y", number(0, 0, -2, 0), axisZ, number(0, 0, 1, 0), one, 0, false},
		{"too near a half-turn swing", number(7*0x1p-52, 1, 0, 0), axisZ, number(7*0x1p-52, 1, 0, 0), one, 7 * 0x1p-52, false},
		{"just far enough", number(8*0x1p-52, 1, 0, 0), axisZ, number(8*0x1p-52, 1, 0, 0), one, 8 * 0x1p-52, true},
		{"zero rotation", quat.Number{}, axisZ, one, one, 0, false},
		{"zero axis", number(0, -3, 0, 0), r3.Vec{}, number(0, 1, 0, 0), one, 0, false},
		{"both zero", quat.Number{}, r3.Vec{}, one, one, 0, false},
		{"long axis", number(0.6, 0, 0, 0.8), r3.Vec{Z: 4}, one, number(0.6, 0, 0, 0.8), 1, true},
		{"huge", number(1e300, 0, 0, 1e300), r3.Vec{Z: 1e300}, one, number(half, 0, 0, half), 1, true},
		{"largest", number(math.MaxFloat64, 0, 0, math.MaxFloat64), r3.Vec{Z: math.MaxFloat64}, one, number(half, 0, 0, half), 1, true},
		{"subnormal", number(denorm, 0, 0, denorm), r3.Vec{Z: denorm}, one, number(half, 0, 0, half), 1, true},
		{"subnormal zero axis", number(denorm, 0, 0, 0), r3.Vec{}, one, one, 0, false},
		{"small twist keeps its bits", number(1, 0, 0, 1e-200), axisZ, one, number(1, 0, 0, 1e-200), 1, true},
	} {
		parts, defined := twist.Split(c.q, c.axis)
		require.Equal(t, c.defined, defined, c.name)
		// A root and a division leave the last bit open where the length is not exact.
		requireRotation(t, c.swing, parts.Swing, 0x1p-52, c.name, "swing")
		requireRotation(t, c.twist, parts.Twist, 0x1p-52, c.name, "twist")
		require.InDelta(t, c.condition, parts.Condition, 0x1p-52, c.name)
		if c.defined {
			require.Equal(t, parts.Condition, parts.Swing.Real, c.name)
		}
		// The sign is fixed too, which requireRotation does not see.
		require.Positive(t, quat.Mul(parts.Swing, quat.Conj(c.swing)).Real, c.name)
		require.Positive(t, quat.Mul(parts.Twist, quat.Conj(c.twist)).Real, c.name)

		angle, also := twist.Angle(c.q, c.axis)
		require.Equal(t, defined, also, c.name)
		along := c.twist.Imag*sign(c.axis.X) + c.twist.Jmag*sign(c.axis.Y) + c.twist.Kmag*sign(c.axis.Z)
		want := 2 * math.Atan2(along, c.twist.Real) // every axis above is a coordinate axis
		if want == -math.Pi {
			want = math.Pi
		}
		require.InDelta(t, want, angle, 0x1p-50, c.name)
	}
}

// sign is 0 for 0, else 1 with the sign of x.
func sign(x float64) float64 {
	if x == 0 {
		return 0
	}
	return math.Copysign(1, x)
}

// TestExact pins what needs no rounding.
func TestExact(t *testing.T) {
	parts := mustSplit(t, number(1, 0, 0, 1e-200), axisZ)
	require.Equal(t, number(1, 0, 0, 1e-200), parts.Twist)
	require.Equal(t, number(1, 0, 0, 0), parts.Swing)
	angle := mustAngle(t, number(1, 0, 0, 1e-200), axisZ)
	require.Equal(t, 2e-200, angle)
	require.Equal(t, math.Pi, mustAngle(t, number(0, 0, 0, 1), axisZ))
	require.Equal(t, math.Pi, mustAngle(t, number(0, 0, 0, -1), axisZ))
	require.Equal(t, math.Pi, mustAngle(t, number(1e-30, 0, 0, -1), axisZ), "rounds to the half turn, which has one name")
	require.Less(t, mustAngle(t, number(1e-15, 0, 0, -1), axisZ), -3.0)
}

// TestConditionNeverPastOne: rounding must not carry the cosine of a pure
// twist's swing past 1.
func TestConditionNeverPastOne(t *testing.T) {
	for i := range 2000 {
		x := float64(i)
		axis := r3.Vec{X: math.Sin(x), Y: math.Sin(2 * x), Z: math.Cos(3 * x)}
		parts := mustSplit(t, twist.About(axis, x), axis)
		require.LessOrEqual(t, parts.Condition, 1.0, "axis %v, angle %v", axis, x)
		require.InDelta(t, 1, parts.Condition, twist.MaxProductError)
	}
}

// TestSplitNotFinite: NaN or Inf anywhere gives NaN everywhere and false.
func TestSplitNotFinite(t *testing.T) {
	for _, bad := range []float64{nan, inf, -inf} {
		for i := range 7 {
			c := [7]float64{1, 2, 3, 4, 1, 2, 3}
			c[i] = bad
			q, axis := number(c[0], c[1], c[2], c[3]), r3.Vec{X: c[4], Y: c[5], Z: c[6]}
			for _, split := range []func(quat.Number, r3.Vec) (twist.Parts, bool){twist.Split, twist.SplitSwingFirst} {
				parts, defined := split(q, axis)
				require.False(t, defined)
				for _, x := range []float64{
					parts.Swing.Real, parts.Swing.Imag, parts.Swing.Jmag, parts.Swing.Kmag,
					parts.Twist.Real, parts.Twist.Imag, parts.Twist.Jmag, parts.Twist.Kmag, parts.Condition,
				} {
					require.True(t, math.IsNaN(x), "%v at %d", bad, i)
				}
			}
			angle, defined := twist.Angle(q, axis)
			require.False(t, defined)
			require.True(t, math.IsNaN(angle))
			power, defined := twist.Power(q, axis, 0.5)
			require.False(t, defined)
			require.True(t, quat.IsNaN(power))
		}
	}
	// NaN wins over zero, on either side.
	parts, _ := twist.Split(quat.Number{}, r3.Vec{X: nan})
	require.True(t, math.IsNaN(parts.Condition))
	parts, _ = twist.Split(number(nan, 0, 0, 0), r3.Vec{})
	require.True(t, math.IsNaN(parts.Condition))
}

// TestCoordinateForms compares with the closed forms for the three coordinate
// axes: Reynolds 2022, "Quaternion axis factorizations",
// marc-b-reynolds.github.io/quaternions/2022/01/31/QuatAxisFactor.html.
func TestCoordinateForms(t *testing.T) {
	for _, q := range []quat.Number{
		number(1, 2, 3, 4), number(4, -3, 2, -1), number(0.1, 0.2, -0.9, 0.3), number(1, 0, 0, 0), number(3, -1, 1, 7),
	} {
		q = unit(q)
		w, x, y, z := q.Real, q.Imag, q.Jmag, q.Kmag
		l := math.Hypot(w, x)
		requireRotation(t, number(l, 0, (w*y-x*z)/l, (w*z+x*y)/l), mustSplit(t, q, axisX).Swing, componentTolerance)
		requireRotation(t, number(w/l, x/l, 0, 0), mustSplit(t, q, axisX).Twist, componentTolerance)
		l = math.Hypot(w, y)
		requireRotation(t, number(l, (w*x+y*z)/l, 0, (w*z-x*y)/l), mustSplit(t, q, axisY).Swing, componentTolerance)
		requireRotation(t, number(w/l, 0, y/l, 0), mustSplit(t, q, axisY).Twist, componentTolerance)
		l = math.Hypot(w, z)
		requireRotation(t, number(l, (w*x-y*z)/l, (w*y+x*z)/l, 0), mustSplit(t, q, axisZ).Swing, componentTolerance)
		requireRotation(t, number(w/l, 0, 0, z/l), mustSplit(t, q, axisZ).Twist, componentTolerance)
	}
}

// TestSplitValues: the split of (1,2,3,4)/sqrt(30) by the algorithm of
// Dobrowolski 2015, arXiv:1506.05481, in degrees.
func TestSplitValues(t *testing.T) {
	for _, c := range []struct {
		axis         r3.Vec
		twist, swing float64
	}{
		{axisX, 126.869897645844, 131.810314895779},
		{axisY, 143.130102354156, 109.471220634491},
		{axisZ, 151.927513064147, 82.337744339234},
	} {
		parts := mustSplit(t, number(1, 2, 3, 4), c.axis)
		require.InDelta(t, c.twist*degree, mustAngle(t, number(1, 2, 3, 4), c.axis), angleTolerance)
		require.InDelta(t, c.twist*degree, angleOf(parts.Twist), angleTolerance)
		require.InDelta(t, c.swing*degree, angleOf(parts.Swing), angleTolerance)
		require.InDelta(t, math.Cos(c.swing*degree/2), parts.Condition, componentTolerance)
	}
	requireRotation(t, number(0.408248290464, 0, -0.408248290464, 0.816496580928),
		mustSplit(t, number(1, 2, 3, 4), axisX).Swing, printedTolerance)
}

// TestConditioning: the twist moves by up to 2/condition radians for a radian
// of the quaternion (Dobrowolski 2015; Reynolds 2022).
func TestConditioning(t *testing.T) {
	for _, c := range []struct{ swing, rate float64 }{{90, 2.83}, {179, 229}, {179.99, 22918}} {
		q := twist.About(axisX, c.swing*degree)
		const step = 1e-9 // far below the condition and far above rounding
		moved := mustAngle(t, quat.Add(q, number(0, 0, 0, step)), axisZ)
		condition := mustSplit(t, q, axisZ).Condition
		require.InEpsilon(t, c.rate, moved/step, 2e-3)
		require.InEpsilon(t, 2/condition, moved/step, 1e-6)
	}
}

// TestNearestTwist: of all pure twists the one of the split is nearest to q,
// and what remains is the swing angle (Dobrowolski 2015).
func TestNearestTwist(t *testing.T) {
	axis := r3.Vec{X: 2, Y: -1, Z: 2}
	for _, q := range []quat.Number{number(1, 2, 3, 4), number(-1, 0.2, 0.3, 2), number(5, -1, -1, 0)} {
		parts := mustSplit(t, q, axis)
		least := angleOf(quat.Mul(unit(q), quat.Conj(parts.Twist)))
		require.InDelta(t, angleOf(parts.Swing), least, angleTolerance)
		for i := range 3600 {
			other := twist.About(axis, float64(i)*0.1*degree)
			require.GreaterOrEqual(t, angleOf(quat.Mul(unit(q), quat.Conj(other))), least-angleTolerance)
		}
	}
}

// TestEulerZXZ: with q = Rz(A) Rx(B) Rz(C) the twist about z is A+C and the
// swing B about the x axis turned by A (Dobrowolski 2015; derived).
func TestEulerZXZ(t *testing.T) {
	for _, c := range [][3]float64{{10, 20, 30}, {170, 90, 60}, {-100, 45, -120}, {0, 179, 5}, {33, 0, 44}} {
		a, b, d := c[0]*degree, c[1]*degree, c[2]*degree
		q := product(twist.About(axisZ, a), twist.About(axisX, b), twist.About(axisZ, d))
		angle := mustAngle(t, q, axisZ)
		require.InDelta(t, 0, wrap(a+d-angle), angleTolerance, c)
		swing := twist.About(rotate(twist.About(axisZ, a), axisX), b)
		requireRotation(t, swing, mustSplit(t, q, axisZ).Swing, componentTolerance, c)
	}
}

// TestPerpendicularPair: rotations by alpha and beta about two perpendicular
// axes, both across the long axis, induce a twist of 2 atan(tan(alpha/2)
// tan(beta/2)) (derived; it is the conjunct rotation of Codman's paradox,
// Politti et al. 1998, Med Eng Phys 20:257-260).
func TestPerpendicularPair(t *testing.T) {
	for _, c := range []struct{ alpha, beta, want float64 }{
		{30, 20, 5.410046684432}, {90, 90, 90}, {60, 60, 36.869897645844},
	} {
		q := quat.Mul(twist.About(axisX, c.alpha*degree), twist.About(axisY, c.beta*degree))
		require.InDelta(t, c.want*degree, mustAngle(t, q, axisZ), angleTolerance)
		closed := 2 * math.Atan(math.Tan(c.alpha*degree/2)*math.Tan(c.beta*degree/2))
		require.InDelta(t, closed, mustAngle(t, q, axisZ), angleTolerance)
	}
}

// TestSwingFirst: the other order has the same twist, and its swing is the
// first one's turned back by it.
func TestSwingFirst(t *testing.T) {
	q, axis := number(1, 2, 3, 4), r3.Vec{X: 1, Y: -2, Z: 2}
	first := mustSplit(t, q, axis)
	second, defined := twist.SplitSwingFirst(q, axis)
	require.True(t, defined)
	require.Equal(t, first.Twist, second.Twist)
	require.Equal(t, first.Condition, second.Condition)
	requireRotation(t, product(quat.Conj(first.Twist), first.Swing, first.Twist), second.Swing, componentTolerance)
	requireRotation(t, unit(q), quat.Mul(second.Twist, second.Swing), componentTolerance)
	require.Greater(t, off(first.Swing, second.Swing), 0.1, "the orders differ here")
}
