package rest

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/internal/steady"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// For every finite matrix: a unit quaternion in the documented sign, and no
// rotation of a random handful, nor any small turn away, is nearer.
func nearestIsNearest(t *rapid.T) {
	m := genMat3().Draw(t, "m")
	q, residual := Nearest(m)
	require.InDelta(t, 1, quat.Abs(q), 2*eps)
	require.GreaterOrEqual(t, q.Real, 0.0)
	require.Equal(t, q, canonical(q))
	require.False(t, math.Signbit(q.Real))

	m, largest := normalised(m)
	if largest == 0 {
		require.Equal(t, quat.Number{Real: 1}, q)
		return
	}
	// |M - R|² = |M|² + 3 - 2 tr(R'M): nearest is best aligned.
	alignment := trace(mat3(q), m)
	seed := rapid.Uint64().Draw(t, "seed")
	r := rand.New(rand.NewPCG(seed, 1))
	const tolerance = 64 * eps // entries up to 1, nine products, the quaternion off by eps
	for i := range 32 {
		other := randomRotation(r)
		if i%2 == 1 { // a neighbour
			other = quat.Mul(turn(r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}), 1e-3*r.Float64()), q)
		}
		require.GreaterOrEqual(t, alignment, trace(mat3(other), m)-tolerance)
	}
	require.True(t, residual.Shear >= 0 && residual.Shear < 1)
}

func TestNearestIsNearest(t *testing.T) { rapid.Check(t, nearestIsNearest) }
func FuzzNearestIsNearest(f *testing.F) { f.Fuzz(rapid.MakeFuzz(nearestIsNearest)) }

// Second opinion: U diag(1, 1, det UV') V' from gonum's singular value
// decomposition. Also holds the claims about Defined, Reflected and the error.
func nearestAgreesWithSVD(t *rapid.T) {
	m := genMat3().Draw(t, "m")
	q, residual := Nearest(m)
	m, largest := normalised(m)
	if largest == 0 {
		return
	}
	want, s := throughSVD(m)
	gap := s[1] + s[2]
	if gap > 8*MaxNearestError*s[0] {
		require.True(t, residual.Defined, "gap %v", gap/s[0])
	}
	if gap < MaxNearestError*s[0]/2 {
		require.False(t, residual.Defined, "gap %v", gap/s[0])
	}
	if s[2] > 64*eps*s[0] {
		require.False(t, residual.Reflected)
	}
	if s[2] < -64*eps*s[0] {
		require.True(t, residual.Reflected)
	}
	if residual.Defined {
		// Most of the difference is the decomposition's: for the columns
		// (1.5, 1000, 1), (1.375, 0, 1), (0, 0, 1000), arithmetic with 40 digits
		// puts it 34 eps off and us 3.
		require.LessOrEqual(t, distance(mat3(q), want), 8*MaxNearestError*s[0]/gap)
	}
}

func TestNearestAgreesWithSVD(t *testing.T) { rapid.Check(t, nearestAgreesWithSVD) }
func FuzzNearestAgreesWithSVD(f *testing.F) { f.Fuzz(rapid.MakeFuzz(nearestAgreesWithSVD)) }

// The bound, on matrices R·V·diag(s)·V' whose polar factor is known to the
// rounding of their making, down to gaps where the answer is worth a radian.
func TestNearestError(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 7))
	worst := 0.0
	for range 20000 {
		want, v := randomRotation(r), mat3(randomRotation(r))
		s := mgl64.Vec3{1, math.Pow(10, -14*r.Float64()), 0}
		s[2] = s[1] * (2*r.Float64() - 0.9)
		m := mat3(want).Mul3(v.Mul3(mgl64.Diag3(s)).Mul3(v.Transpose()))
		q, residual := Nearest(m)
		if residual.Defined {
			worst = max(worst, angleBetween(want, q)*(s[1]+s[2]))
		}
	}
	t.Logf("worst error: %.2f eps·s1/(s2+s3)", worst/eps)
	require.LessOrEqual(t, worst, MaxNearestError)
}

// Where a whole circle of rotations is equally near, the answer is the one that
// turns least: for a matrix that keeps one direction only, the shortest arc
// that takes that direction where the matrix takes it.
func rankOneIsShortestArc(t *rapid.T) {
	from := steady.Rotate(genRotation().Draw(t, "p"), r3.Vec{X: 1})
	to := steady.Rotate(genRotation().Draw(t, "q"), r3.Vec{X: 1})
	if r3.Norm(r3.Add(from, to)) < 1e-3 {
		t.Skip("antiparallel: every arc is a half turn")
	}
	q, residual := Nearest(outer(to, from))
	require.False(t, residual.Defined)
	// The length of a + b divides the rounding of the arc.
	requireVec(t, to, steady.Rotate(q, from), 1e5*eps)
	axis := r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}
	require.InDelta(t, 0, r3.Dot(axis, from), 1e5*eps, "an arc turns about an axis at right angles to both ends")
}

func TestRankOneIsShortestArc(t *testing.T) { rapid.Check(t, rankOneIsShortestArc) }
func FuzzRankOneIsShortestArc(f *testing.F) { f.Fuzz(rapid.MakeFuzz(rankOneIsShortestArc)) }

// A turn of the target turns the answer with it, whatever the matrix.
func nearestIsEquivariant(t *rapid.T) {
	m := genMat3().Draw(t, "m")
	m, _ = normalised(m)
	r := genRotation().Draw(t, "r")
	q, residual := Nearest(m)
	got, _ := Nearest(mat3(r).Mul3(m))
	if residual.Defined {
		_, s := throughSVD(m)
		require.LessOrEqual(t, angleBetween(quat.Mul(r, q), got), 3*MaxNearestError*s[0]/(s[1]+s[2]))
	}
}

func TestNearestIsEquivariant(t *testing.T) { rapid.Check(t, nearestIsEquivariant) }
func FuzzNearestIsEquivariant(f *testing.F) { f.Fuzz(rapid.MakeFuzz(nearestIsEquivariant)) }

// distance is the Frobenius norm of a - b.
func distance(a, b mgl64.Mat3) float64 {
	d := a.Sub(b)
	return frobenius(&d)
}

// trace is tr(a'b).
func trace(a, b mgl64.Mat3) float64 {
	var sum float64
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// normalised divides m by its largest entry.
func normalised(m mgl64.Mat3) (mgl64.Mat3, float64) {
	var largest float64
	for _, e := range m {
		largest = max(largest, math.Abs(e))
	}
	if largest == 0 {
		return m, 0
	}
	for i := range m {
		m[i] /= largest
	}
	return m, largest
}

// throughSVD is the nearest rotation and the singular values, the last with
// the determinant's sign.
func throughSVD(m mgl64.Mat3) (mgl64.Mat3, [3]float64) {
	var svd mat.SVD
	dense := mat.NewDense(3, 3, []float64{m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]})
	if !svd.Factorize(dense, mat.SVDFull) {
		panic("no singular value decomposition")
	}
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	values := svd.Values(nil)
	sign := math.Copysign(1, mat.Det(&u)*mat.Det(&v))
	var r mat.Dense
	r.Mul(&u, mat.NewDiagDense(3, []float64{1, 1, sign}))
	r.Mul(&r, v.T())
	var out mgl64.Mat3
	for column := range 3 {
		for row := range 3 {
			out[3*column+row] = r.At(row, column)
		}
	}
	return out, [3]float64{values[0], values[1], sign * values[2]}
}

func TestThroughSVD(t *testing.T) {
	r, s := throughSVD(mgl64.Diag3(mgl64.Vec3{3, 2, -1}))
	require.InDelta(t, 0, distance(mgl64.Ident3(), r), 8*eps)
	require.InDeltaSlice(t, []float64{3, 2, -1}, s[:], 8*eps)
}
