package main

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Largest errors of a component over the data that the ways may have. Half the
// twist errs by 8 eps over the condition (the twist package derives it), and
// arcs by as much near opposite directions; leastCondition is that of the data.
// Ways by slerp blend linearly and scale to unit length where the rotations are
// near: where the cosine of half the twist x is above 0.9995, so that x is below
// 0.0317. At the share t that is t(1-t)(1-2t) x^3/6 behind (the series of
// atan(t sin x/(1-t+t cos x)), its first term beyond t x), most at a third.
const (
	eps64      = 0x1p-52
	eps32      = 0x1p-23
	worst64    = 8 * eps64 / leastCondition
	worst32    = 8 * eps32 / leastCondition
	worstSlerp = (1. / 3) * (2. / 3) * (1. / 3) * 0.0317 * 0.0317 * 0.0317 / 6

	leastCondition = 0.02
)

func TestContendersAreRight(t *testing.T) {
	d := newData(200)
	exact := newExactAnswers(d)
	names := map[string]bool{}
	for _, list := range contenders {
		cs, err := list(d)
		require.NoError(t, err)
		for _, c := range cs {
			key := string(c.task) + c.name + string(c.precision)
			require.False(t, names[key], "two rows of %s", key)
			names[key] = true

			c.pass()
			if c.answers == nil {
				continue
			}
			off, err := exact.farthest(c.task, c.precision, c.answers())
			require.NoError(t, err)
			bound := worst64
			if c.precision == float32s {
				bound = worst32
			}
			if c.name == "mathgl, by slerp" {
				bound += worstSlerp
			}
			require.LessOrEqual(t, off, bound, "%s: %s, %s", c.task, c.name, c.precision)
		}
	}
}

func TestFarthestFindsErrors(t *testing.T) {
	d := newData(20)
	exact := newExactAnswers(d)
	for _, task := range []task{limb, aim} {
		for _, p := range []precision{float64s, float32s} {
			var right []float64
			for _, q := range exact.of(task, p) {
				n := q.Neg().Float64() // the same rotation
				right = append(right, n.Imag, n.Jmag, n.Kmag, n.Real)
			}
			off, err := exact.farthest(task, p, right)
			require.NoError(t, err)
			require.LessOrEqual(t, off, eps64, "exact answers, rounded")

			right[41] += 0.125
			off, err = exact.farthest(task, p, right)
			require.NoError(t, err)
			require.InDelta(t, 0.125, off, eps64)

			right[41] = math.NaN()
			off, err = exact.farthest(task, p, right)
			require.NoError(t, err)
			require.True(t, math.IsInf(off, 1))

			_, err = exact.farthest(task, p, right[1:])
			require.Error(t, err)
		}
	}
}
