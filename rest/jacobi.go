package rest

import "math"

// symmetric is a symmetric 4x4 matrix; both triangles are kept.
type symmetric [4][4]float64

// eigen diagonalises s by cyclic Jacobi rotations (Jacobi 1846; Golub & Van
// Loan, Matrix Computations, 8.5; from memory): value[k] belongs to the unit
// column vector (vector[0][k], ..., vector[3][k]). The columns are orthonormal
// to a few eps whatever the matrix, repeated eigenvalues included. Entries are
// expected finite and of a size near 1.
func (s symmetric) eigen() (value [4]float64, vector symmetric) {
	for k := range 4 {
		vector[k][k] = 1
	}
	negligible := jacobiNegligible * s.norm()
	for range jacobiSweeps {
		done := true
		for p := range 3 {
			for q := p + 1; q < 4; q++ {
				if math.Abs(s[p][q]) <= negligible {
					continue
				}
				done = false
				s.annihilate(&vector, p, q)
			}
		}
		if done {
			break
		}
	}
	for k := range 4 {
		value[k] = s[k][k]
	}
	return value, vector
}

const (
	// jacobiNegligible is far below an eps: convergence is quadratic, so the
	// last sweep usually overshoots it.
	jacobiNegligible = 0x1p-64
	// jacobiSweeps stops what rounding might keep alive. Four to six sweeps
	// serve matrices of this size.
	jacobiSweeps = 16
)

// annihilate turns the plane (p, q) so that s[p][q] becomes zero, by the
// smaller of the two angles that do so.
func (s *symmetric) annihilate(vector *symmetric, p, q int) {
	half := (s[q][q] - s[p][p]) / (2 * s[p][q])
	tan := 1 / (math.Abs(half) + math.Sqrt(float64(half*half)+1))
	if half < 0 {
		tan = -tan
	}
	cos := 1 / math.Sqrt(float64(tan*tan)+1)
	sin := tan * cos
	shift := float64(tan * s[p][q])
	s[p][p] -= shift
	s[q][q] += shift
	s[p][q], s[q][p] = 0, 0
	for r := range 4 {
		if r != p && r != q {
			a, b := s[r][p], s[r][q]
			s[r][p] = float64(cos*a) - float64(sin*b)
			s[r][q] = float64(sin*a) + float64(cos*b)
			s[p][r], s[q][r] = s[r][p], s[r][q]
		}
		a, b := vector[r][p], vector[r][q]
		vector[r][p] = float64(cos*a) - float64(sin*b)
		vector[r][q] = float64(sin*a) + float64(cos*b)
	}
}

func (s *symmetric) norm() float64 {
	var sum float64
	for p := range 4 {
		for q := range 4 {
			sum += float64(s[p][q] * s[p][q])
		}
	}
	return math.Sqrt(sum)
}
