package swing

import (
	"errors"
	"fmt"
	"math"

	"github.com/pronate/pronate/internal/bicubic"
	"gonum.org/v1/gonum/mat"
)

// system is the least-squares problem for the inner coefficients of a spline;
// three on each side stay zero, and the spline falls level to the box's edge.
// Its matrix is banded: splines meet only near ones.
type system struct {
	s       *spline
	columns int // unknowns in a row
	matrix  *mat.SymBandDense
	right   *mat.VecDense
}

func newSystem(s *spline) *system {
	columns, rows := s.nx-3, s.ny-3
	n := columns * rows
	return &system{s: s, columns: columns, matrix: mat.NewSymBandDense(n, 3*columns+3, nil), right: mat.NewVecDense(n, nil)}
}

// element is what the 16 splines over a cell have to do with one another.
type element struct {
	matrix [16][16]float64 // only where the second index is not below the first
	right  [16]float64
}

// roll adds weight |dχ - g|^2 at a place of a cell.
func (e *element) roll(b basis, weight, gx, gy float64) {
	var x, y [16]float64
	for p := range 16 {
		i, j := p&3, p>>2
		x[p], y[p] = b.x1[i]*b.y0[j], b.x0[i]*b.y1[j]
	}
	for p := range 16 {
		wx, wy := weight*x[p], weight*y[p]
		e.right[p] += wx*gx + wy*gy
		for q := p; q < 16; q++ {
			e.matrix[p][q] += wx*x[q] + wy*y[q]
		}
	}
}

// bend adds weight times the squared second derivatives at a place of a cell.
func (e *element) bend(b basis, weight float64) {
	var xx, xy, yy [16]float64
	for p := range 16 {
		i, j := p&3, p>>2
		xx[p], xy[p], yy[p] = b.x2[i]*b.y0[j], b.x1[i]*b.y1[j], b.x0[i]*b.y2[j]
	}
	for p := range 16 {
		for q := p; q < 16; q++ {
			e.matrix[p][q] += weight * (xx[p]*xx[q] + 2*xy[p]*xy[q] + yy[p]*yy[q])
		}
	}
}

// basis is the B-splines at a place of a cell, and their derivatives.
type basis struct{ x0, y0, x1, y1, x2, y2 [4]float64 }

// basis takes the place as parts of the cell's side.
func (s *spline) basis(u, v float64) (b basis) {
	b.x0[0], b.x0[1], b.x0[2], b.x0[3] = bicubic.Cubic(u)
	b.y0[0], b.y0[1], b.y0[2], b.y0[3] = bicubic.Cubic(v)
	cubicSlopes(&b.x1, u)
	cubicSlopes(&b.y1, v)
	cubicBends(&b.x2, u)
	cubicBends(&b.y2, v)
	for k := range 4 {
		b.x1[k] /= s.step
		b.y1[k] /= s.step
		b.x2[k] /= s.step * s.step
		b.y2[k] /= s.step * s.step
	}
	return b
}

// add adds the element of the cell i, j.
func (y *system) add(e *element, i, j int) {
	for p := range 16 {
		row, ok := y.unknown(i+p&3, j+p>>2)
		if !ok {
			continue
		}
		y.right.SetVec(row, y.right.AtVec(row)+e.right[p])
		for q := p; q < 16; q++ {
			if column, ok := y.unknown(i+q&3, j+q>>2); ok {
				y.matrix.SetSymBand(row, column, y.matrix.At(row, column)+e.matrix[p][q])
			}
		}
	}
}

// unknown is the number of a coefficient among those that are not zero.
func (y *system) unknown(i, j int) (int, bool) {
	i, j = i-3, j-3
	return j*y.columns + i, i >= 0 && j >= 0 && i < y.columns && j < y.s.ny-3
}

var errThin = errors.New("swing: best field: the region is too thin to solve for, expected a wider one")

// solve fills in the spline's coefficients.
func (y *system) solve() error {
	var factors mat.BandCholesky
	if !factors.Factorize(y.matrix) {
		return errThin
	}
	var solution mat.VecDense
	if err := factors.SolveVecTo(&solution, y.right); err != nil && !errors.As(err, new(mat.Condition)) {
		return fmt.Errorf("swing: best field: %w", err)
	}
	for i := range solution.Len() {
		x := solution.AtVec(i)
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return errThin
		}
		y.s.coef[(i/y.columns+3)*y.s.stride()+i%y.columns+3] = float32(x)
	}
	return nil
}
