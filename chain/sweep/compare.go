package sweep

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/spatial/r3"
)

// Options are settings of a comparison; the zero value will do.
type Options struct {
	Axis r3.Vec  // the bone's direction at rest, any non-zero length; zero means that it hangs along Down
	Step float64 // of the grid, radians; 0 means one degree
}

// Figures are what a sweep finds of one field of swings. Rolls are radians a
// radian of motion.
type Figures struct {
	Field     chain.Field // Shortest, Centred, LeastRoll or Balanced
	None      error       // why there is no such field over the range: then nothing else is known
	Centre    r3.Vec      // unit direction by way of which swings go
	CentreAt  Place       // the same in the range's angles
	Singular  Place       // the direction opposite it, to which there is no swing
	Unbounded bool        // the singular direction lies in the range: roll has no bound there

	Worst   float64 // the greatest rate; +Inf where Unbounded
	WorstAt Place   // where; the singular place where Unbounded
	RMS     float64 // root mean square over the area; +Inf where Unbounded (the mean diverges, slowly)
	Ratio   float64 // Worst over the comparison's Bound

	Flips []Flip // of a limb of three segments with no rotation of its own
	Map   Map    // of the rate; its own Worst and RMS are the grid's, finite always
}

// Comparison sets the four fields of a range side by side.
type Comparison struct {
	Area      float64 // of the range on the sphere of directions, steradians
	Perimeter float64 // radians
	Bound     float64 // Area/Perimeter: no field rolls less on average along the edge (Stokes)

	Shortest, Centred, LeastRoll, Balanced Figures
}

// maxEdge is how far from the range's edge a singular direction still counts as
// in the range, in radians: rounding, and directions that were float32 once. The
// rate is 2e6 at that distance.
const maxEdge = 1e-6

// Compare measures the four fields over the range by solvers for it. Where there is no
// field of least roll or none that is balanced, its figures say why.
//
// Where the range has a corner of more than half a turn from side to side, the
// exact least roll has no bound in the corner, weakly: next to the
// shoulder's, 240 degrees wide at an abduction of 90, it grows as the distance
// to the power of 180/240 - 1 = -1/4 (derived; the gradient of a function that
// is zero on both sides). The field's table rounds that off, and its Worst there
// is the table's.
//
// The error is that of the solver: a range that is none, or that has no area.
func Compare(m Motion, o Options) (Comparison, error) {
	var out Comparison
	if o.Axis == (r3.Vec{}) {
		o.Axis = m.Down
	}
	for _, f := range []struct {
		field chain.Field
		to    *Figures
	}{{chain.Shortest, &out.Shortest}, {chain.Centred, &out.Centred}, {chain.LeastRoll, &out.LeastRoll}, {chain.Balanced, &out.Balanced}} {
		solver, err := chain.NewSolver(chain.Limb{Name: "sweep", Axis: o.Axis, Segments: 3, Field: f.field, Range: m.Range})
		if err != nil && f.field != chain.Shortest && f.field != chain.Centred {
			*f.to = Figures{Field: f.field, None: err}
			continue
		}
		if err != nil {
			return out, err
		}
		if *f.to, err = measure(solver, m, o.Step); err != nil {
			return out, err
		}
		f.to.Field = f.field
	}
	region, err := m.Region()
	if err != nil {
		return out, fmt.Errorf("sweep: range: %w", err)
	}
	out.Area, out.Perimeter = region.Area(), region.Perimeter()
	out.Bound = out.Area / out.Perimeter
	for _, f := range []*Figures{&out.Shortest, &out.Centred, &out.LeastRoll, &out.Balanced} {
		if f.None == nil {
			f.Ratio = f.Worst / out.Bound
		}
	}
	return out, nil
}

// measure takes one solver's figures.
func measure(solver *chain.Solver, m Motion, step float64) (f Figures, err error) {
	swings, err := NewSwings(solver)
	if err != nil {
		return f, err
	}
	f.Map, err = m.Map(step, func(flexion, abduction float64) float64 {
		return swings.Rate(m.Direction(flexion, abduction))
	})
	if err != nil {
		return f, err
	}
	if f.Flips, err = Flips(solver, m, 0, step); err != nil {
		return f, err
	}
	f.Centre = solver.Centre()
	f.CentreAt.Flexion, f.CentreAt.Abduction = m.Angles(f.Centre)
	f.Singular.Flexion, f.Singular.Abduction = m.Angles(swings.Singular())
	f.Worst, f.WorstAt, f.RMS = f.Map.Worst, f.Map.WorstAt, f.Map.RMS
	// Whether roll is bounded must not hang on where the grid has its places.
	if m.Beyond(swings.Singular()) <= maxEdge && swings.Winding(swings.Singular()) != 0 {
		f.Unbounded, f.Worst, f.WorstAt, f.RMS = true, math.Inf(1), f.Singular, math.Inf(1)
	}
	return f, nil
}
