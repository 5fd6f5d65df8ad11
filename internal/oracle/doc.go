// Package oracle computes rotations in 256-bit arithmetic. It is the plain
// twin the tests hold the float64 packages to: the textbook formulas, with no
// care for speed and none needed for rounding. Only tests import it, and bench.
//
// Arguments are finite, and where a direction or rotation is asked for not
// zero; big.Float panics on NaN, which is right in a test. Results are rounded
// to float64 only by the caller. Angles are radians.
package oracle
