package swing

import "errors"

// section is a complex function u of the plane, made of the splines over a
// region's cells. It stands for the field that is turned by arg u about the axis
// against the centred one.
type section struct {
	cells    *spline   // their coefficients are not used
	number   []int     // of a coefficient among those of splines that reach the region; -1 for others
	used     int       // how many those are
	unknowns []float64 // real and imaginary part by turns
}

// pair is what the splines over a cell have to do with one another in a section's
// equations: a Hermitian matrix and a complex right side.
type pair struct {
	real, imag  [16][16]float64 // imag[p][q] ties the real part of p to the imaginary one of q
	right, left [16]float64     // of the real and of the imaginary parts
}

// add adds weight (|du - i g u|^2 + w |u|^2 - 2 Re(u* (re + i im))) at a place of a
// cell.
func (e *pair) add(b *basis, weight, gx, gy, w, re, im float64) {
	var value, x, y, along [16]float64
	for p := range 16 {
		i, j := p&3, p>>2
		value[p], x[p], y[p] = b.x0[i]*b.y0[j], float64(b.x1[i]*b.y0[j]), float64(b.x0[i]*b.y1[j])
		along[p] = float64(x[p]*gx) + float64(y[p]*gy)
	}
	w += float64(gx*gx) + float64(gy*gy)
	for p := range 16 {
		v, wx, wy := float64(weight*value[p]), float64(weight*x[p]), float64(weight*y[p])
		wv, wa := float64(w*v), float64(weight*along[p])
		e.right[p] += float64(v * re)
		e.left[p] += float64(v * im)
		for q := range 16 {
			if q >= p {
				e.real[p][q] += float64(wx*x[q]) + float64(wy*y[q]) + float64(wv*value[q])
			}
			e.imag[p][q] += float64(wa*value[q]) - float64(v*along[q])
		}
	}
}

// ErrSingular is what [Balanced] wraps where its field would have a singular point in
// the region.
var ErrSingular = errors.New("the field has a singular point in the region, expected a smaller region or one that reaches less far from the axis")

// solveSection finds the section that minimises the integral of |du - i g u|^2 over
// the region in the plane, and lambda n^power |u - e^iβ|^2 over it on the sphere.
func solveSection(cells *spline, outline []point, t *tie) (*section, error) {
	s := &section{cells: cells, number: make([]int, len(cells.coef))}
	pairs := make([]*pair, cells.nx*cells.ny)
	cells.inside(outline, func(p *place) {
		k := p.j*cells.nx + p.i
		if pairs[k] == nil {
			pairs[k] = new(pair)
		}
		weight, re, im := t.pull(p.x, p.y)
		gx, gy := rolledBack(p.x, p.y)
		b := cells.basis(p.u, p.v)
		pairs[k].add(&b, p.weight, gx, gy, weight, re, im)
	})
	width := s.count(pairs)
	equations := newBand(2*s.used, width)
	var bend element
	for _, v := range gauss {
		for _, u := range gauss {
			bend.bend(cells.basis(u.at, v.at), bending*cells.step*cells.step*u.weight*v.weight)
		}
	}
	for k, e := range pairs {
		if e == nil {
			continue
		}
		i, j := k%cells.nx, k/cells.nx
		var at [16]int
		for p := range 16 {
			at[p] = 2 * s.number[(j+p>>2)*cells.stride()+i+p&3]
			equations.right[at[p]] += e.right[p]
			equations.right[at[p]+1] += e.left[p]
		}
		for p := range 16 {
			for q := range 16 {
				equations.add(at[p], at[q]+1, e.imag[p][q])
				if q < p {
					continue
				}
				x := e.real[p][q] + bend.matrix[p][q]
				equations.add(at[p], at[q], x)
				equations.add(at[p]+1, at[q]+1, x)
			}
		}
	}
	solution, ok := equations.solve()
	if !ok {
		return nil, errThin
	}
	s.unknowns = solution
	return s, nil
}

// count numbers the coefficients of splines over the cells that have a pair, along
// the shorter side, and returns how far apart those that meet are.
func (s *section) count(pairs []*pair) (width int) {
	c := s.cells
	stride, rows := c.stride(), c.ny+3
	for k := range s.number {
		s.number[k] = -1
	}
	for k, e := range pairs {
		if e == nil {
			continue
		}
		for p := range 16 {
			s.number[(k/c.nx+p>>2)*stride+k%c.nx+p&3] = 0
		}
	}
	for k := range s.number {
		if stride > rows {
			k = k%rows*stride + k/rows
		}
		if s.number[k] == 0 {
			s.number[k] = s.used
			s.used++
		}
	}
	for k, e := range pairs {
		if e == nil {
			continue
		}
		low, high := s.used, 0
		for p := range 16 {
			n := s.number[(k/c.nx+p>>2)*stride+k%c.nx+p&3]
			low, high = min(low, n), max(high, n)
		}
		width = max(width, 2*(high-low)+1)
	}
	return width
}

// at is u and its derivatives at a place of a cell.
func (s *section) at(i, j int, b *basis) (u, ux, uy [2]float64) {
	for q := range 4 {
		for p := range 4 {
			n := s.number[(j+q)*s.cells.stride()+i+p]
			if n < 0 {
				continue
			}
			v, vx, vy := b.x0[p]*b.y0[q], b.x1[p]*b.y0[q], b.x0[p]*b.y1[q]
			for k := range 2 {
				c := s.unknowns[2*n+k]
				u[k] += float64(c * v)
				ux[k] += float64(c * vx)
				uy[k] += float64(c * vy)
			}
		}
	}
	return u, ux, uy
}

// slope is the gradient of arg u at a place.
func (s *section) slope(p *place) (gx, gy float64) {
	b := s.cells.basis(p.u, p.v)
	u, ux, uy := s.at(p.i, p.j, &b)
	size := float64(u[0]*u[0]) + float64(u[1]*u[1])
	gx = (float64(u[0]*ux[1]) - float64(u[1]*ux[0])) / size
	gy = (float64(u[0]*uy[1]) - float64(u[1]*uy[0])) / size
	return gx, gy
}
