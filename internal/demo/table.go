package demo

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"
)

// curves are several quantities tabulated along one coordinate, joined by
// monotone cubics (Fritsch and Butland 1984), which do not overshoot a table.
type curves []interp.FritschButland

// tabulate reads rows of {coordinate, quantity, quantity, ...} with the
// coordinate rising.
func tabulate(rows [][]float64) curves {
	xs := make([]float64, len(rows))
	for i, row := range rows {
		xs[i] = row[0]
	}
	cs := make(curves, len(rows[0])-1)
	ys := make([]float64, len(rows))
	for k := range cs {
		for i, row := range rows {
			ys[i] = row[k+1]
		}
		if err := cs[k].Fit(xs, ys); err != nil {
			panic(err) // the tables are constants of this package
		}
	}
	return cs
}

// at gives quantity k at x; beyond the table it keeps the end's value.
func (c curves) at(k int, x float64) float64 { return c[k].Predict(x) }

// stations are places from first to last, about a spacing apart. At each edge,
// given in rising order, stands a pair a hair's breadth apart, so that colours
// change there abruptly.
func stations(first, last, spacing float64, edges ...float64) []float64 {
	var out []float64
	from := first
	for _, to := range append(slices.Clone(edges), last+seam/2) {
		to -= seam / 2
		count := max(int(math.Ceil((to-from)/spacing-0.1)), 1) // a tenth more will do
		for k := range count + 1 {
			out = append(out, lerp(from, to, float64(k)/float64(count)))
		}
		from = to + seam
	}
	return out
}

// seam is the width over which colours change.
const seam = 0.002
