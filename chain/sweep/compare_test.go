package sweep_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

func compared(t require.TestingT, m sweep.Motion, o sweep.Options) sweep.Comparison {
	c, err := sweep.Compare(m, o)
	require.NoError(t, err)
	return c
}

// farthest is the greatest angle from a direction over a map's grid.
func farthest(m sweep.Motion, f sweep.Figures) (angle float64) {
	for _, x := range f.Map.Flexion {
		for _, y := range f.Map.Abduction {
			d := m.Direction(x, y)
			angle = max(angle, 2*math.Atan2(r3.Norm(r3.Sub(d, f.Centre)), r3.Norm(r3.Add(d, f.Centre))))
		}
	}
	return angle
}

// A hip's plain field rolls tan(120/2 degrees) = 1.73 at 120 degrees of flexion,
// the centred one 0.82 by way of 45 degrees, the best one 0.72 and 0.33 in the
// root mean square, against 0.74 and 0.45 (derived, as is the rate tan(angle/2)
// that plain and centred have at an angle from their centre).
func TestCompareHip(t *testing.T) {
	for _, out := range []r3.Vec{left, right} {
		m := sweep.Hip(down, forward, out)
		c := compared(t, m, sweep.Options{})
		require.InDelta(t, math.Sqrt(3), c.Shortest.Worst, rollTolerance)
		require.InDelta(t, 120*degree, c.Shortest.WorstAt.Flexion, component)
		require.InDelta(t, 0, c.Shortest.WorstAt.Abduction, component)
		require.InDelta(t, 0.74, c.Shortest.RMS, 0.01)

		require.InDelta(t, 0.82, c.Centred.Worst, 0.01)
		require.InDelta(t, math.Tan(farthest(m, c.Centred)/2), c.Centred.Worst, rollTolerance)
		require.InDelta(t, 45*degree, c.Centred.CentreAt.Flexion, 2*degree)
		require.InDelta(t, 0.455, c.Centred.RMS, 0.005)

		require.LessOrEqual(t, c.LeastRoll.Worst, 0.74)
		require.LessOrEqual(t, c.LeastRoll.RMS, 0.34)
		for _, f := range []sweep.Figures{c.Shortest, c.Centred, c.LeastRoll} {
			require.False(t, f.Unbounded)
			require.Empty(t, f.Flips)
			require.Empty(t, f.Map.Undefined)
		}
	}
}

// The shoulder reaches straight overhead, opposite rest: the plain field has no
// bound there, on any grid, a place of it overhead or not. A wrist bends less
// than a hip.
func TestCompareShoulderAndWrist(t *testing.T) {
	for _, step := range []float64{2 * degree, 2.7 * degree} {
		m := sweep.Shoulder(down, forward, left)
		c := compared(t, m, sweep.Options{Step: step})
		require.True(t, c.Shortest.Unbounded)
		require.True(t, math.IsInf(c.Shortest.Worst, 1) && math.IsInf(c.Shortest.RMS, 1) && math.IsInf(c.Shortest.Ratio, 1))
		require.InDelta(t, math.Pi, c.Shortest.WorstAt.Flexion, component)
		require.InDelta(t, 0, c.Shortest.WorstAt.Abduction, component)
		require.NotEmpty(t, c.Shortest.Flips)
		require.InDelta(t, math.Tan(farthest(m, c.Centred)/2), c.Centred.Worst, rollTolerance)
		require.Less(t, c.LeastRoll.RMS, c.Centred.RMS)
		// Next to the corner the exact least roll has no bound, and the table's worst
		// hangs on where in its cell the corner lies: 1.74 here, the centred 1.73.
		require.Less(t, c.LeastRoll.Worst, 1.02*c.Centred.Worst)

		w := compared(t, sweep.Wrist(down, forward, left), sweep.Options{Step: step})
		require.False(t, w.Shortest.Unbounded)
		require.Less(t, w.LeastRoll.Worst, w.Centred.Worst)
		require.Less(t, w.Centred.Worst, w.Shortest.Worst)
		for _, f := range []sweep.Figures{c.Centred, c.LeastRoll, w.Shortest, w.Centred, w.LeastRoll} {
			require.False(t, f.Unbounded)
			require.Empty(t, f.Flips)
		}
	}
}

// Area and perimeter of a range (Archimedes: a band's area is its height times
// its width), and Stokes' bound: the mean of the best field's roll along the
// edge, taken step by step from the solver, is area over perimeter, as is every
// other field's that is smooth inside; so none has its worst below it.
func TestStokes(t *testing.T) {
	for _, j := range joints {
		m := j.of(down, forward, left)
		c := compared(t, m, sweep.Options{Step: 5 * degree})
		width := m.Flexion[1] - m.Flexion[0]
		require.InDelta(t, width*(math.Sin(m.Abduction[1])-math.Sin(m.Abduction[0])), c.Area, component)
		require.InDelta(t, c.Area/c.Perimeter, c.Bound, component)
		region, err := m.Region()
		require.NoError(t, err)
		for _, f := range []sweep.Figures{c.Shortest, c.Centred, c.LeastRoll} {
			require.Equal(t, f.Worst/c.Bound, f.Ratio)
			require.GreaterOrEqual(t, f.Ratio, 1.)
			if f.Unbounded {
				continue
			}
			rolled := rollRound(t, swingsOf(t, allSolvers()[j.name][f.Field].left), region.Edge())
			// Chords for the edge's arcs of a quarter of a degree.
			require.InDelta(t, -c.Bound, rolled/c.Perimeter, 1e-5, "%s, field %d", j.name, f.Field)
		}
	}
}

// The figures are the body's, whatever frame they are told in, and a bone need
// not hang at rest.
func TestCompareInAnyFrame(t *testing.T) {
	q := quat.Number{Real: 0.1, Imag: 0.7, Jmag: -0.5, Kmag: 0.5}
	m := sweep.Shoulder(rotate(q, down), rotate(q, forward), rotate(q, left))
	turned := compared(t, m, sweep.Options{Step: 5 * degree})
	straight := compared(t, sweep.Shoulder(down, forward, left), sweep.Options{Step: 5 * degree})
	require.True(t, turned.Shortest.Unbounded)
	require.InDelta(t, straight.Centred.Worst, turned.Centred.Worst, rollTolerance)
	require.InDelta(t, straight.LeastRoll.RMS, turned.LeastRoll.RMS, 1e-4) // the table's cells lie otherwise

	// Arms held out at rest: opposite is across the body, out of range.
	out := compared(t, sweep.Shoulder(down, forward, left), sweep.Options{Step: 5 * degree, Axis: r3.Scale(3, left)})
	require.False(t, out.Shortest.Unbounded)
	require.InDelta(t, math.Tan(120*degree/2), out.Shortest.Worst, rollTolerance) // 30 degrees of adduction from there
	require.InDelta(t, straight.LeastRoll.Worst, out.LeastRoll.Worst, 1e-6)       // a constant apart
}

// Towards the shoulder's corner at 90 degrees of abduction, 240 degrees wide, the
// best field's roll grows as the distance to the power of -1/4 (derived), to where
// the table's cells, some 10 degrees there, round it off.
func TestWideCorner(t *testing.T) {
	m := sweep.Shoulder(down, forward, left)
	w := swingsOf(t, allSolvers()["shoulder"][chain.LeastRoll].left)
	for _, flexion := range m.Flexion {
		near, far := w.Rate(m.Direction(flexion, 75*degree)), w.Rate(m.Direction(flexion, 45*degree))
		// The nearer place is one and a half of those cells from the corner: it loses 8 %.
		require.InDelta(t, math.Pow(3, 0.25), near/far, 0.11)
	}
}

func TestCompareErrors(t *testing.T) {
	_, err := sweep.Compare(sweep.Motion{}, sweep.Options{})
	require.EqualError(t, err, `chain: limb "sweep": field is centred, expected a range of motion`)
	m := sweep.Hip(down, forward, left)
	m.Out = forward
	_, err = sweep.Compare(m, sweep.Options{})
	require.ErrorContains(t, err, "are not unit directions at right angles")
	m = sweep.Hip(down, forward, left)
	m.Abduction = [2]float64{}
	_, err = sweep.Compare(m, sweep.Options{})
	require.ErrorContains(t, err, "range")
	_, err = sweep.Compare(sweep.Hip(down, forward, left), sweep.Options{Axis: r3.Vec{X: math.NaN()}})
	require.ErrorContains(t, err, "axis")
}
