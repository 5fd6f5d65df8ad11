package swing

// band is a symmetric positive definite matrix whose elements are zero but next
// to the diagonal, and a right side: a system of equations.
//
// It is eliminated here, and not by gonum's Cholesky, because gonum's sums are in
// another order on processors that it has assembly for, and a solved field is to
// have the same bits everywhere. In Go's order, and with every product rounded by
// itself, they are.
type band struct {
	n, width int // equations, and how far elements reach from the diagonal
	stride   int
	elements []float64 // row by row from the diagonal on, zeros after the last
	right    []float64
}

// together is how many rows are eliminated at a time: what they take off another
// row is summed before that is touched.
const together = 4

// newBand is n equations, all zero.
func newBand(n, width int) *band {
	whole := (n + together - 1) / together * together
	b := &band{n: n, width: width, stride: width + together, right: make([]float64, whole)}
	b.elements = make([]float64, whole*b.stride)
	for i := n; i < whole; i++ { // to a whole number of steps, by equations x = 0
		b.row(i)[0] = 1
	}
	return b
}

// row is row i from the diagonal on.
func (b *band) row(i int) []float64 { return b.elements[i*b.stride:][:b.stride] }

// add adds to the element at i, j and so to that at j, i.
func (b *band) add(i, j int, x float64) {
	if i > j {
		i, j = j, i
	}
	b.elements[i*b.stride+j-i] += x
}

// solve eliminates without looking for pivots, which a positive definite matrix
// does not want (Golub & Van Loan, Matrix Computations, 4.3; from memory), and
// returns the solution, in the right side's place. It is false for a matrix
// that is not positive definite.
func (b *band) solve() ([]float64, bool) {
	for i := 0; i < len(b.right); i += together {
		var inverse [together]float64
		for p := range together {
			row := b.row(i + p)
			if !(row[0] > 0) {
				return nil, false
			}
			inverse[p] = 1 / row[0]
			for q := p + 1; q < together; q++ {
				takeOne(b.row(i+q), row[q-p:], float64(row[q-p]*inverse[p]))
			}
		}
		r0, r1, r2, r3 := b.row(i), b.row(i+1), b.row(i+2), b.row(i+3)
		last := min(b.width+together, len(b.right)-i)
		for k := together; k < last; k++ {
			takeFour(b.row(i+k), r0[k:], r1[k-1:], r2[k-2:], r3[k-3:], &inverse)
		}
	}
	for i := range b.right {
		row := b.row(i)
		x := float64(b.right[i] / row[0])
		for k, e := range row[:min(b.stride, len(b.right)-i)] {
			if k > 0 {
				b.right[i+k] -= float64(x * e)
			}
		}
	}
	for i := len(b.right) - 1; i >= 0; i-- {
		row, sum := b.row(i), b.right[i]
		for k, e := range row[:min(b.stride, len(b.right)-i)] {
			if k > 0 {
				sum -= float64(e * b.right[i+k])
			}
		}
		b.right[i] = sum / row[0]
	}
	return b.right[:b.n], true
}

// takeOne takes f times a row off another.
func takeOne(dst, row []float64, f float64) {
	dst = dst[:len(row)]
	for i, x := range row {
		dst[i] -= float64(f * x)
	}
}

// takeFour takes four rows off another, each by what makes its first element
// there zero.
func takeFour(dst, r0, r1, r2, r3 []float64, inverse *[together]float64) {
	n := len(r0)
	dst, r1, r2, r3 = dst[:n], r1[:n], r2[:n], r3[:n]
	f0, f1 := float64(r0[0]*inverse[0]), float64(r1[0]*inverse[1])
	f2, f3 := float64(r2[0]*inverse[2]), float64(r3[0]*inverse[3])
	for i, x := range r0 {
		dst[i] -= (float64(f0*x) + float64(f1*r1[i])) + (float64(f2*r2[i]) + float64(f3*r3[i]))
	}
}
