//go:build !race

// The race detector has pools forget at random, on which encoding/json relies.

package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A row of CSV costs two strings, the cells read and the cells written; an object
// costs nothing, though three specifications go by turns. What a whole run costs
// besides, buffers and flags and solvers, is the same however long it is, and drops
// out of the difference; what is left over is the collector's emptying of pools.
func TestSolveAllocatesNoMorePerLine(t *testing.T) {
	const few, more, leftOver = 1000, 4000, 0.02
	limb := []string{"--limbs", asFile(t, "limbs.yaml", limbsOfSolve), "--limb", "thigh_l", "--axis=0,-1,0"}
	for _, c := range []struct {
		asCSV bool
		limb  []string
		want  float64
	}{{false, nil, 0}, {true, nil, 2}, {false, limb, 0}, {true, limb, 2}} {
		count := func(lines int) float64 {
			in := swaying(lines, c.asCSV)
			return testing.AllocsPerRun(3, func() { solveAll(t, in, c.asCSV, c.limb...) })
		}
		perLine := (count(more) - count(few)) / (more - few)
		require.InDelta(t, c.want, perLine, leftOver, "CSV: %v, limb: %v", c.asCSV, c.limb != nil)
	}
}
