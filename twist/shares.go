package twist

import "fmt"

// Linear returns n shares of a twist in equal steps along a bone, from 0 at
// its root to 1 at its end: i/(n-1). One share is the whole, {1}; n < 1 gives
// nil.
func Linear(n int) []float64 {
	return ramp(n, func(x float64) float64 { return x })
}

// Smooth returns n shares that leave 0 and reach 1 with no slope, 3x² - 2x³ of
// the linear ones. One share is the whole, {1}; n < 1 gives nil.
func Smooth(n int) []float64 {
	return ramp(n, func(x float64) float64 { return x * x * (3 - 2*x) })
}

// ramp returns f at n equal steps from 0 to 1.
func ramp(n int, f func(x float64) float64) []float64 {
	switch {
	case n < 1:
		return nil
	case n == 1:
		return []float64{1}
	}
	shares := make([]float64, n)
	for i := range shares {
		shares[i] = f(float64(i) / float64(n-1))
	}
	return shares
}

// CheckShares reports what is wrong with a user's own list of shares: it must
// hold n numbers from 0 to 1. They need not increase. The error names the
// index at fault.
func CheckShares(shares []float64, n int) error {
	if len(shares) != n {
		return fmt.Errorf("%d shares, expected %d", len(shares), n)
	}
	for i, s := range shares {
		if !(s >= 0 && s <= 1) { // NaN fails too
			return fmt.Errorf("shares[%d] = %v, expected 0 to 1", i, s)
		}
	}
	return nil
}
