package swing

import (
	"math"

	"github.com/pronate/pronate/internal/bicubic"
)

// system is the least-squares problem for the inner coefficients of a spline;
// three on each side stay zero, and the spline falls level to the box's edge.
// Its matrix is banded: splines meet only near ones.
type system struct {
	s             *spline
	columns, rows int // of unknowns
	equations     *band
}

func newSystem(s *spline) *system {
	y := &system{s: s, columns: s.nx - 3, rows: s.ny - 3}
	y.equations = newBand(y.columns*y.rows, 3*min(y.columns, y.rows)+3)
	return y
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
		x[p], y[p] = float64(b.x1[i]*b.y0[j]), float64(b.x0[i]*b.y1[j])
	}
	for p := range 16 {
		wx, wy := float64(weight*x[p]), float64(weight*y[p])
		e.right[p] += float64(wx*gx) + float64(wy*gy)
		for q := p; q < 16; q++ {
			e.matrix[p][q] += float64(wx*x[q]) + float64(wy*y[q])
		}
	}
}

// pull adds what g alone does in roll: the matrix stays.
func (e *element) pull(b *basis, weight, gx, gy float64) {
	for p := range 16 {
		i, j := p&3, p>>2
		e.right[p] += float64(weight * (float64(b.x1[i]*b.y0[j]*gx) + float64(b.x0[i]*b.y1[j]*gy)))
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
			e.matrix[p][q] += float64(weight * (float64(xx[p]*xx[q]) + float64(2*xy[p]*xy[q]) + float64(yy[p]*yy[q])))
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
		y.equations.right[row] += e.right[p]
		for q := p; q < 16; q++ {
			if column, ok := y.unknown(i+q&3, j+q>>2); ok {
				y.equations.add(row, column, e.matrix[p][q])
			}
		}
	}
}

// unknown is the number of a coefficient among those that are not zero. They are
// counted along the shorter side: the band is the narrower.
func (y *system) unknown(i, j int) (int, bool) {
	i, j = i-3, j-3
	ok := i >= 0 && j >= 0 && i < y.columns && j < y.rows
	if y.columns <= y.rows {
		return j*y.columns + i, ok
	}
	return i*y.rows + j, ok
}

// solve fills in the spline's coefficients.
func (y *system) solve() error {
	solution, ok := y.equations.solve()
	if !ok {
		return errThin
	}
	for j := range y.rows {
		for i := range y.columns {
			k, _ := y.unknown(i+3, j+3)
			x := solution[k]
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return errThin
			}
			y.s.coef[(j+3)*y.s.stride()+i+3] = float32(x)
		}
	}
	return nil
}
