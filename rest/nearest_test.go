package rest

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// shear is [[1,1],[0,1]] in the x-y plane.
var shear = mgl64.Mat3{1, 0, 0, 1, 1, 0, 0, 0, 1}

// The polar factor of [[1,1],[0,1]] is [[2,1],[-1,2]]/sqrt(5), a turn by
// -26.565051177 degrees, its stretch [[2,1],[1,3]]/sqrt(5), and the distance
// between matrix and factor 0.726542528 (worked out by hand from Higham 1986,
// SIAM J. Sci. Stat. Comput. 7:1160-1174, to nine digits).
func TestNearestOfShear(t *testing.T) {
	q, residual := Nearest(shear)
	root5 := math.Sqrt(5)
	requireQuat(t, turn(r3.Vec{Z: 1}, -26.565051177*math.Pi/180), q, 1e-11)
	want := mgl64.Mat3{2 / root5, -1 / root5, 0, 1 / root5, 2 / root5, 0, 0, 0, 1}
	u := mat3(q)
	for i := range want {
		require.InDelta(t, want[i], u[i], 8*eps)
	}
	requireVec(t, r3.Vec{X: 2 / root5, Y: 3 / root5, Z: 1}, residual.Scale, 8*eps)
	require.InDelta(t, math.Sqrt2/root5/2, residual.Shear, 8*eps, "off-diagonal 1/sqrt(5) twice, norm of the matrix 2")
	require.InDelta(t, 0.726542528, distance(shear, u), 5e-10)
	require.True(t, residual.Defined)
	require.False(t, residual.Reflected)
}

// Newton's iteration X <- (X + X^-T)/2 towards the polar factor, from the same
// matrix: the errors of its iterates in the Frobenius norm (Higham 1986).
// Measured against our factor, they are right only if that is.
func TestNearestIsLimitOfNewton(t *testing.T) {
	q, _ := Nearest(shear)
	u := mat3(q)
	x := shear
	for step, published := range []float64{1.669e-1, 8.811e-3, 2.728e-5, 2.631e-10} {
		x = x.Add(x.Inv().Transpose()).Mul(0.5)
		require.InEpsilon(t, published, distance(x, u), 5e-4, "step %d", step+1)
	}
	x = x.Add(x.Inv().Transpose()).Mul(0.5)
	require.Less(t, distance(x, u), 8*eps)
}

// The mean of the identity and a turn by theta about z has the polar factor
// that turns by theta/2, stretch diag(cos(theta/2), cos(theta/2), 1), for
// |theta| < pi (Higham 1986 with half-angle formulas).
func TestNearestOfBlend(t *testing.T) {
	for _, degrees := range []float64{0, 1e-6, 1, 30, 90, -135, 170, 179, -179.9} {
		theta := degrees * math.Pi / 180
		m := mgl64.Ident3().Add(mat3(turn(r3.Vec{Z: 1}, theta))).Mul(0.5)
		q, residual := Nearest(m)
		cos := math.Cos(theta / 2)
		require.InDelta(t, 0, angleBetween(turn(r3.Vec{Z: 1}, theta/2), q), MaxNearestError/cos, "%v degrees", degrees)
		requireVec(t, r3.Vec{X: cos, Y: cos, Z: 1}, residual.Scale, 8*eps)
		require.InDelta(t, 0, residual.Shear, 8*eps)
		require.True(t, residual.Defined)
	}
}

// The mean of rotations is the dominant eigenvector of the sum of w q q' over
// them, and that is the rotation nearest to the weighted sum of their matrices
// (Markley, Cheng, Crassidis & Oshman 2007, J. Guid. Control Dyn. 30:1193-1197;
// from memory). Values worked out numerically to twelve digits.
func TestNearestOfSumIsMean(t *testing.T) {
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	const radian = math.Pi / 180
	extrinsic := func(a, b, c float64) mgl64.Mat3 {
		return mat3(quat.Mul(turn(z, c*radian), quat.Mul(turn(y, b*radian), turn(x, a*radian))))
	}
	mean := func(weights [3]float64) quat.Number {
		var sum mgl64.Mat3
		for i, m := range []mgl64.Mat3{extrinsic(10, 20, 30), extrinsic(40, -10, 5), extrinsic(-20, 60, 80)} {
			sum = sum.Add(m.Mul(weights[i]))
		}
		q, residual := Nearest(sum)
		require.True(t, residual.Defined)
		return q
	}
	requireQuat(t, quat.Number{Real: 0.932965188097, Imag: -0.001635494363, Jmag: 0.146675145887, Kmag: 0.328724329090}, mean([3]float64{1, 1, 1}), 1e-10)
	requireQuat(t, quat.Number{Real: 0.872972474678, Imag: -0.126159560166, Jmag: 0.181124975654, Kmag: 0.434967317196}, mean([3]float64{1, 2, 3}), 1e-10)

	// About one axis: atan2 of the weighted sines and cosines, 3 parts of 0
	// degrees and one of 90.
	q, _ := Nearest(mgl64.Ident3().Mul(3).Add(mat3(turn(z, math.Pi/2))))
	requireQuat(t, turn(z, 18.434948822922*radian), q, 1e-13)
}

func TestNearestTable(t *testing.T) {
	third := unit(quat.Number{Real: 1, Imag: 1, Jmag: 1, Kmag: 1})
	identity := quat.Number{Real: 1}
	diagonal := func(x, y, z float64) mgl64.Mat3 { return mgl64.Diag3(mgl64.Vec3{x, y, z}) }
	tests := []struct {
		name               string
		m                  mgl64.Mat3
		want               quat.Number
		scale              r3.Vec
		reflected, defined bool
	}{
		{"identity", mgl64.Ident3(), identity, r3.Vec{X: 1, Y: 1, Z: 1}, false, true},
		{"three identities", diagonal(3, 3, 3), identity, r3.Vec{X: 3, Y: 3, Z: 3}, false, true},
		{"huge", diagonal(1e150, 1e150, 2e150), identity, r3.Vec{X: 1e150, Y: 1e150, Z: 2e150}, false, true},
		{"tiny", diagonal(1e-310, 1e-310, 2e-310), identity, r3.Vec{X: 1e-310, Y: 1e-310, Z: 2e-310}, false, true},
		{"smallest", diagonal(5e-324, 5e-324, 5e-324), identity, r3.Vec{X: 5e-324, Y: 5e-324, Z: 5e-324}, false, true},
		{"half turn", diagonal(1, -1, -1), quat.Number{Imag: 1}, r3.Vec{X: 1, Y: 1, Z: 1}, false, true},
		{"permutation", mgl64.Mat3{0, 1, 0, 0, 0, 1, 1, 0, 0}, third, r3.Vec{X: 1, Y: 1, Z: 1}, false, true},
		{"scaled before", mat3(third).Mul3(diagonal(1, 2, 3)), third, r3.Vec{X: 1, Y: 2, Z: 3}, false, true},
		{"flat", diagonal(1, 1, 0), identity, r3.Vec{X: 1, Y: 1}, false, true},
		{"reflected, weak axis", diagonal(2, 3, -1), identity, r3.Vec{X: 2, Y: 3, Z: -1}, true, true},
		{"reflected, scaled, turned", mat3(third).Mul3(diagonal(2, -1, 3)), third, r3.Vec{X: 2, Y: -1, Z: 3}, true, true},
		{"mirror", diagonal(1, 1, -1), identity, r3.Vec{X: 1, Y: 1, Z: -1}, true, false},
		{"inside out", diagonal(-1, -1, -1), quat.Number{Imag: 1}, r3.Vec{X: -1, Y: 1, Z: 1}, true, false},
		{"a line", diagonal(0, 2, 0), identity, r3.Vec{Y: 2}, false, false},
		{"a line turned", mgl64.Mat3{0, 1, 0, 0, 0, 0, 0, 0, 0}, turn(r3.Vec{Z: 1}, math.Pi/2), r3.Vec{X: 1}, false, false},
		{"zero", mgl64.Mat3{}, identity, r3.Vec{}, false, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			q, residual := Nearest(test.m)
			if test.name != "inside out" { // there any half turn is as near
				requireQuat(t, test.want, q, 4*eps)
				largest := max(math.Abs(test.scale.X), math.Abs(test.scale.Y), math.Abs(test.scale.Z))
				requireVec(t, test.scale, residual.Scale, 8*eps*largest)
			}
			require.InDelta(t, 1, quat.Abs(q), 2*eps)
			require.Equal(t, test.reflected, residual.Reflected, "reflected")
			require.Equal(t, test.defined, residual.Defined, "defined")
		})
	}
	for _, size := range []float64{1, 7, 1e150, 5e-324} {
		exact, _ := Nearest(diagonal(size, size, size))
		require.Equal(t, identity, exact, "to the bit")
	}
}

func TestNearestNotFinite(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for i := range 9 {
			m := mgl64.Ident3()
			m[i] = bad
			q, residual := Nearest(m)
			require.True(t, math.IsNaN(q.Real) && math.IsNaN(q.Imag) && math.IsNaN(q.Jmag) && math.IsNaN(q.Kmag))
			require.True(t, math.IsNaN(residual.Scale.X) && math.IsNaN(residual.Scale.Y) && math.IsNaN(residual.Scale.Z) && math.IsNaN(residual.Shear))
			require.False(t, residual.Defined || residual.Reflected)
		}
	}
}

// Matrices of rank two in whole numbers of 30 bits: the determinant is 0, its
// computed value is rounding of either sign and no reflection.
func TestNearestFlatIsNotReflected(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	negative := 0
	for range 1000 {
		var m mgl64.Mat3
		for i := range 3 {
			a, b := float64(r.IntN(1<<30)-1<<29), float64(r.IntN(1<<30)-1<<29)
			m[i], m[3+i], m[6+i] = a, b, a+b
		}
		if m.Det() < 0 {
			negative++
		}
		_, residual := Nearest(m)
		require.False(t, residual.Reflected, "%v", m)
	}
	require.NotZero(t, negative, "the check means nothing where no rounding is negative")
}

func TestNearestAllocatesNothing(t *testing.T) {
	m := mat3(turn(r3.Vec{X: 1}, 1)).Mul3(shear)
	require.Zero(t, testing.AllocsPerRun(100, func() {
		Nearest(m)
		Nearest(mgl64.Mat3{})
	}))
}

func BenchmarkNearest(b *testing.B) {
	m := mat3(turn(r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3}), 1)).Mul3(shear)
	b.ReportAllocs()
	for b.Loop() {
		Nearest(m)
	}
}
