package rest

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Residual is what the nearest rotation R leaves of a matrix M: the symmetric
// stretch H = RᵀM that acts before it, M = R·H.
type Residual struct {
	// Scale is H's diagonal: how much M stretches along each axis of the frame
	// it starts from. For a rotation after a scale along the axes it is that
	// scale; a reflection shows as a negative entry as long as R is unique.
	Scale r3.Vec
	// Shear is the part of M that is neither rotation nor scale along the
	// axes: the Frobenius norm of H without its diagonal, over M's. 0 for none,
	// below 1 always; 0 for the zero matrix.
	Shear float64
	// Reflected says that M turns the character inside out: its determinant is
	// negative by more than the rounding with which it is computed.
	Reflected bool
	// Defined says that R is the only nearest rotation.
	Defined bool
}

// residualOf measures what q leaves of m, which was scaled by 2^-exponent.
func residualOf(m *mgl64.Mat3, q quat.Number, norm float64, exponent int) Residual {
	if norm == 0 {
		return Residual{}
	}
	r := mat3(q)
	h := func(row, column int) float64 {
		a, b := r[3*row:3*row+3], m[3*column:3*column+3]
		return float64(a[0]*b[0]) + float64(a[1]*b[1]) + float64(a[2]*b[2])
	}
	// H is symmetric up to rounding; its two triangles are averaged by taking
	// the norm over both.
	var off float64
	for row := range 3 {
		for column := range 3 {
			if row != column {
				off += float64(h(row, column) * h(row, column))
			}
		}
	}
	return Residual{
		Scale: r3.Vec{
			X: math.Ldexp(h(0, 0), exponent), Y: math.Ldexp(h(1, 1), exponent), Z: math.Ldexp(h(2, 2), exponent),
		},
		Shear:     math.Sqrt(off) / norm,
		Reflected: isReflected(m),
	}
}

// isReflected compares the determinant with the error it may have: each of its
// six products of three carries three roundings, the sum five more, all
// relative to the sum of the products' sizes.
func isReflected(m *mgl64.Mat3) bool {
	const relative = 8 * 0x1p-53
	terms := [6]float64{
		float64(m[0] * m[4] * m[8]), float64(m[3] * m[7] * m[2]), float64(m[6] * m[1] * m[5]),
		float64(-m[6] * m[4] * m[2]), float64(-m[3] * m[1] * m[8]), float64(-m[0] * m[7] * m[5]),
	}
	var determinant, size float64
	for _, t := range terms {
		determinant += t
		size += math.Abs(t)
	}
	return determinant < -relative*size
}

func unknownResidual() Residual {
	nan := math.NaN()
	return Residual{Scale: r3.Vec{X: nan, Y: nan, Z: nan}, Shear: nan}
}
