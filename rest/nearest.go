package rest

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/num/quat"
)

// Nearest returns the rotation nearest to m in the Frobenius norm, a proper
// rotation (determinant +1) for every finite m, and what it leaves out. Its
// real part is >= 0; where that is 0, the first component that is not is
// positive. The identity matrix and its multiples give the identity exactly.
//
// Let s1 >= s2 >= |s3| be m's singular values, s3 carrying the sign of the
// determinant. The rotation is unique where s2 + s3 > 0 and its error is at
// most MaxNearestError·s1/(s2 + s3) radians, which is also how far a rounding
// of m would move the exact answer. Where several rotations are equally near
// (matrices of rank one or zero, reflections whose two least singular values
// agree; to rounding, s2 + s3 below MaxNearestError·|m|) the one that turns
// least is returned and Residual.Defined is false; the zero matrix gives the
// identity. NaN or Inf anywhere gives NaN in every number, and Defined false.
func Nearest(m mgl64.Mat3) (quat.Number, Residual) {
	exponent, ok := sizeOf(&m)
	if !ok {
		return quat.NaN(), unknownResidual()
	}
	for i := range m {
		m[i] = math.Ldexp(m[i], -exponent)
	}
	value, vector := attitude(&m).eigen()
	first, second := topTwo(&value)
	norm := frobenius(&m)
	defined := value[first]-value[second] >= 2*MaxNearestError*norm && norm > 0
	var q quat.Number
	if defined {
		q = quat.Number{Real: vector[0][first], Imag: vector[1][first], Jmag: vector[2][first], Kmag: vector[3][first]}
	} else {
		q = leastTurn(&value, &vector, first, norm)
	}
	q = canonical(unit(q))
	residual := residualOf(&m, q, norm, exponent)
	residual.Defined = defined
	return q, residual
}

// MaxNearestError is the factor in front of s1/(s2 + s3) in Nearest's error, in
// radians. Jacobi rotations leave an error of a few eps times N's norm, at most
// 2 sqrt(3) s1, over the gap 2 (s2 + s3) between N's greatest eigenvalues; a
// quaternion's error is half an angle's. The worst of 20,000 random matrices
// takes 7 eps; the bound is twice that, to a power of two.
const MaxNearestError = 16 * 0x1p-52

// attitude is the symmetric matrix N of qᵀNq = tr(R(q)ᵀM), rows and columns in
// the order w, x, y, z.
func attitude(m *mgl64.Mat3) symmetric {
	var (
		xx, yx, zx = m[0], m[1], m[2] // first column
		xy, yy, zy = m[3], m[4], m[5]
		xz, yz, zz = m[6], m[7], m[8]
	)
	return symmetric{
		{xx + yy + zz, zy - yz, xz - zx, yx - xy},
		{zy - yz, xx - yy - zz, xy + yx, xz + zx},
		{xz - zx, xy + yx, yy - xx - zz, yz + zy},
		{yx - xy, xz + zx, yz + zy, zz - xx - yy},
	}
}

// leastTurn picks, among the rotations that share the greatest eigenvalue to
// rounding, the one nearest the identity: the identity's projection onto their
// eigenspace. If that is at right angles to the identity (all of them half
// turns) the first eigenvector serves.
func leastTurn(value *[4]float64, vector *symmetric, first int, norm float64) quat.Number {
	if norm == 0 {
		return quat.Number{Real: 1}
	}
	var sum [4]float64
	for k := range 4 {
		if value[first]-value[k] < 2*MaxNearestError*norm {
			for r := range 4 {
				sum[r] += float64(vector[0][k] * vector[r][k])
			}
		}
	}
	// The projection's real part is its squared length. Where that is no more
	// than the eigenvectors' rounding, squared, there is no direction in it.
	if sum[0] < 0x1p-96 {
		for r := range 4 {
			sum[r] = vector[r][first]
		}
	}
	return quat.Number{Real: sum[0], Imag: sum[1], Jmag: sum[2], Kmag: sum[3]}
}

// topTwo returns the places of the greatest value and of the next.
func topTwo(value *[4]float64) (first, second int) {
	for k := range 4 {
		if value[k] > value[first] {
			first = k
		}
	}
	second = (first + 1) % 4
	for k := range 4 {
		if k != first && value[k] > value[second] {
			second = k
		}
	}
	return first, second
}

// canonical is q or -q, whichever has the first component that is not zero
// positive.
func canonical(q quat.Number) quat.Number {
	for _, c := range [4]float64{q.Real, q.Imag, q.Jmag, q.Kmag} {
		if c > 0 {
			return q
		}
		if c < 0 {
			// 0 - c leaves zeros positive.
			return quat.Number{Real: 0 - q.Real, Imag: 0 - q.Imag, Jmag: 0 - q.Jmag, Kmag: 0 - q.Kmag}
		}
	}
	return q
}

// sizeOf is the binary exponent of m's largest entry, and whether all are
// finite.
func sizeOf(m *mgl64.Mat3) (exponent int, finite bool) {
	var largest float64
	for _, e := range m {
		largest = max(largest, math.Abs(e)) // NaN stays NaN
	}
	if math.IsNaN(largest) || math.IsInf(largest, 0) {
		return 0, false
	}
	_, exponent = math.Frexp(largest)
	return exponent, true
}

func frobenius(m *mgl64.Mat3) float64 {
	var sum float64
	for _, e := range m {
		sum += float64(e * e)
	}
	return math.Sqrt(sum)
}
