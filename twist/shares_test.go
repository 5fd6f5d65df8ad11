package twist_test

import (
	"testing"

	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
)

func TestLinear(t *testing.T) {
	require.Nil(t, twist.Linear(-1))
	require.Nil(t, twist.Linear(0))
	require.Equal(t, []float64{1}, twist.Linear(1))
	require.Equal(t, []float64{0, 1}, twist.Linear(2))
	require.Equal(t, []float64{0, 0.25, 0.5, 0.75, 1}, twist.Linear(5))
}

func TestSmooth(t *testing.T) {
	require.Nil(t, twist.Smooth(-1))
	require.Nil(t, twist.Smooth(0))
	require.Equal(t, []float64{1}, twist.Smooth(1))
	require.Equal(t, []float64{0, 1}, twist.Smooth(2))
	require.Equal(t, []float64{0, 0.15625, 0.5, 0.84375, 1}, twist.Smooth(5))
}

// TestRampsPassTheirCheck: every ramp is a valid list that never decreases,
// starts at 0 and ends at 1 exactly.
func TestRampsPassTheirCheck(t *testing.T) {
	for n := 2; n < 200; n++ {
		for _, shares := range [][]float64{twist.Linear(n), twist.Smooth(n)} {
			require.NoError(t, twist.CheckShares(shares, n))
			require.IsNonDecreasing(t, shares)
			require.Zero(t, shares[0])
			require.Equal(t, 1.0, shares[n-1])
		}
	}
}

func TestCheckShares(t *testing.T) {
	require.NoError(t, twist.CheckShares(nil, 0))
	require.NoError(t, twist.CheckShares([]float64{1, 0, 0.5}, 3), "any order will do")
	require.EqualError(t, twist.CheckShares([]float64{0, 1}, 3), "2 shares, expected 3")
	require.EqualError(t, twist.CheckShares([]float64{0, 0.5, 1.5}, 3), "shares[2] = 1.5, expected 0 to 1")
	require.EqualError(t, twist.CheckShares([]float64{-0.1, 2}, 2), "shares[0] = -0.1, expected 0 to 1")
	require.EqualError(t, twist.CheckShares([]float64{0, nan}, 2), "shares[1] = NaN, expected 0 to 1")
	require.EqualError(t, twist.CheckShares([]float64{inf}, 1), "shares[0] = +Inf, expected 0 to 1")
}
