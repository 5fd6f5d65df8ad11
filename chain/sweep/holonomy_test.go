package sweep_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// rollRound adds up the roll along a closed path of shortest arcs.
func rollRound(t require.TestingT, w *sweep.Swings, path []r3.Vec) (sum float64) {
	for i, from := range path {
		roll, ok := w.Between(from, path[(i+1)%len(path)])
		require.True(t, ok)
		sum += roll
	}
	return sum
}

// divided puts n-1 places on every side of a spherical polygon.
func divided(corners []r3.Vec, n int) (path []r3.Vec) {
	for i, from := range corners {
		to := corners[(i+1)%len(corners)]
		for k := range n {
			path = append(path, r3.Unit(r3.Add(r3.Scale(float64(n-k), from), r3.Scale(float64(k), to))))
		}
	}
	return path
}

// everyField runs a check for every joint and field.
func everyField(t *testing.T, check func(t *testing.T, m sweep.Motion, s *chain.Solver)) {
	for _, j := range joints {
		for _, field := range fields {
			t.Run(j.name+" "+field.String(), func(t *testing.T) {
				check(t, j.of(down, forward, left), allSolvers()[j.name][field].left)
			})
		}
	}
}

// loopTolerance is for the sum of some thousand rolls, each good to 1e-14.
const loopTolerance = 1e-11

// Round the circle at 60 degrees from a direction n shortest arcs enclose
// 3.139699040, 3.141474370 and 3.141585261 for n = 64, 256 and 1024, and the
// circle pi = 2 pi (1 - cos 60 degrees) (derived; verified numerically there).
// The swing of every field rolls by as much, against the way round.
func TestHolonomyOfCircle(t *testing.T) {
	everyField(t, func(t *testing.T, m sweep.Motion, s *chain.Solver) {
		w := swingsOf(t, s)
		middle := m.Direction(40*degree, 10*degree)
		u, _ := swing.Perpendicular(middle)
		for _, c := range []struct {
			n    int
			area float64
		}{{64, 3.139699040}, {256, 3.141474370}, {1024, 3.141585261}} {
			path := make([]r3.Vec, c.n)
			for i := range path {
				path[i] = polar(middle, u, 60*degree, 2*math.Pi*float64(i)/float64(c.n))
			}
			require.InDelta(t, -c.area, rollRound(t, w, path), 1e-9, "%d arcs", c.n)
		}
	})
}

// An octant encloses pi/2: z to x to y to z turns by +pi/2 about z.
func TestHolonomyOfOctant(t *testing.T) {
	corners := []r3.Vec{{Z: 1}, {X: 1}, {Y: 1}}
	reversed := []r3.Vec{{Z: 1}, {Y: 1}, {X: 1}}
	for _, j := range joints {
		for _, field := range fields {
			// A body whose limb hangs into the middle of the octant.
			m := j.of(r3.Unit(r3.Vec{X: 1, Y: 1, Z: 1}), r3.Unit(r3.Vec{X: 1, Y: -1}), r3.Unit(r3.Vec{X: 1, Y: 1, Z: -2}))
			w := swingsOf(t, solverOf(t, m, field))
			require.InDelta(t, -math.Pi/2, rollRound(t, w, divided(corners, 100)), loopTolerance)
			require.InDelta(t, math.Pi/2, rollRound(t, w, divided(reversed, 100)), loopTolerance)
		}
	}
}

// A triangle with sides of one radian encloses 0.49559489573396475 (OEIS
// A243710, L'Huilier's formula).
func TestHolonomyOfTriangle(t *testing.T) {
	radius := math.Asin(math.Sin(0.5) / math.Sin(60*degree))
	everyField(t, func(t *testing.T, m sweep.Motion, s *chain.Solver) {
		w := swingsOf(t, s)
		middle := m.Direction(20*degree, -5*degree)
		u, _ := swing.Perpendicular(middle)
		corners := []r3.Vec{polar(middle, u, radius, 0), polar(middle, u, radius, 120*degree), polar(middle, u, radius, 240*degree)}
		require.InDelta(t, 1, math.Atan2(r3.Norm(r3.Cross(corners[0], corners[1])), r3.Dot(corners[0], corners[1])), component)
		require.InDelta(t, -0.49559489573396475, rollRound(t, w, divided(corners, 50)), loopTolerance)
	})
}

// Any triangle, in any field: the roll is minus the solid angle, up to the two
// whole turns of the singular direction where the path winds round it.
func propertyHolonomy(t *rapid.T) {
	joint := rapid.SampledFrom(joints).Draw(t, "joint")
	w := swingsOf(t, allSolvers()[joint.name][rapid.SampledFrom(fields).Draw(t, "field")].left)
	a, b, c := drawUnit(t, "a"), drawUnit(t, "b"), drawUnit(t, "c")
	for _, side := range [][2]r3.Vec{{a, b}, {b, c}, {c, a}} {
		if r3.Norm(r3.Add(side[0], side[1])) < 0.1 {
			return
		}
	}
	path := divided([]r3.Vec{a, b, c}, 40)
	for _, d := range path {
		if r3.Norm(r3.Sub(d, w.Singular())) < 0.2 {
			return
		}
	}
	requireAngle(t, -solidAngle(a, b, c), rollRound(t, w, path), loopTolerance+solidAngleError(a, b, c))
}

func TestHolonomy(t *testing.T) { rapid.Check(t, propertyHolonomy) }
func FuzzHolonomy(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyHolonomy)) }

// The twists that two centred fields leave of the same rotation differ by the
// difference of the solid angles of the triangles (axis, centre, direction); one
// of them is nothing in the plain field, whose centre is the axis.
func propertyTwistsDiffer(t *rapid.T) {
	axis, c1, c2 := drawUnit(t, "axis"), drawUnit(t, "c1"), drawUnit(t, "c2")
	q := unitRotation(t, "q")
	d := rotate(q, axis)
	for _, pair := range [][2]r3.Vec{{axis, c1}, {axis, c2}, {c1, d}, {c2, d}, {axis, d}} {
		if r3.Norm(r3.Add(pair[0], pair[1])) < 0.05 {
			return
		}
	}
	twist := func(centre r3.Vec) float64 {
		s, err := chain.NewSolver(chain.Limb{Axis: axis, Centre: chain.Centre{Mode: chain.Given, Direction: centre}})
		require.NoError(t, err)
		return s.Solve(make([]quat.Number, 2), q, quat.Number{}).Twist
	}
	const twists = 40 * component // over the least condition, 0.025
	first, second := solidAngleError(axis, c1, d), solidAngleError(axis, c2, d)
	requireAngle(t, solidAngle(axis, c1, d), twist(axis)-twist(c1), first+twists)
	requireAngle(t, solidAngle(axis, c1, d)-solidAngle(axis, c2, d), twist(c2)-twist(c1), first+second+twists)
}

func TestTwistsDiffer(t *testing.T) { rapid.Check(t, propertyTwistsDiffer) }
func FuzzTwistsDiffer(f *testing.F) { f.Fuzz(rapid.MakeFuzz(propertyTwistsDiffer)) }
