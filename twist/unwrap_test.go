package twist_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestUnwrapTable(t *testing.T) {
	const turn = 2 * math.Pi
	for _, c := range []struct {
		name     string
		in, want []float64
	}{
		{"empty", nil, []float64{}},
		{"first as it is", []float64{10}, []float64{10}},
		{"nothing to do", []float64{0, 1, 2, 1, -1}, []float64{0, 1, 2, 1, -1}},
		{"up over the half turn", []float64{3, -3, 0, 3, -3}, []float64{3, -3 + turn, turn, 3 + turn, -3 + 2*turn}},
		{"down over it", []float64{-3, 3, 0}, []float64{-3, 3 - turn, -turn}},
		{"a step of exactly pi stays", []float64{0, math.Pi, 0, -math.Pi}, []float64{0, math.Pi, 0, -math.Pi}},
		{"several turns at once", []float64{0.5, 0.5 + 3*turn}, []float64{0.5, 0.5}},
		{"NaN and Inf pass by", []float64{3, nan, inf, -3}, []float64{3, nan, nan, -3 + turn}},
		{"NaN first", []float64{nan, 9, 3}, []float64{nan, 9, 3 + turn}},
		{"huge is finite", []float64{math.MaxFloat64 / 4, -math.MaxFloat64 / 4}, []float64{math.MaxFloat64 / 4, math.MaxFloat64 / 4}},
	} {
		got := twist.Unwrap(nil, c.in)
		require.Len(t, got, len(c.want), c.name)
		for i, want := range c.want {
			if math.IsNaN(want) {
				require.True(t, math.IsNaN(got[i]), "%s: %v", c.name, got)
				continue
			}
			require.InDelta(t, want, got[i], 1e-14+1e-15*math.Abs(want), "%s: %v", c.name, got)
		}
	}
}

// TestUnwrapDst: in place, into a longer slice, into a shorter one.
func TestUnwrapDst(t *testing.T) {
	in, turn := []float64{3, -3, 3}, 2*math.Pi
	want := []float64{3, -3 + turn, 3}
	long, short := make([]float64, 5), make([]float64, 1)
	require.Equal(t, want, twist.Unwrap(long, in))
	require.Equal(t, want[1], long[1], "used")
	require.Equal(t, want, twist.Unwrap(short, in))
	require.Zero(t, short[0], "left alone")
	require.Equal(t, want, twist.Unwrap(in, in))
	require.Equal(t, want, in)
}

// TestUnwrapDoesNotDrift: a million wrapped steps end where they should to the
// rounding of the end itself, because turns are counted.
func TestUnwrapDoesNotDrift(t *testing.T) {
	var u twist.Unwrapper
	const n = 1_000_000
	var got float64
	for i := range n {
		got = u.Next(wrap(2 * float64(i)))
	}
	require.InDelta(t, 2.0*(n-1), got, 1e-9)
}

// propertyUnwrap: neighbours end up within half a turn, and every angle only
// moves by whole turns.
func propertyUnwrap(t *rapid.T) {
	angles := rapid.SliceOf(rapid.OneOf(
		rapid.Float64Range(-math.Pi, math.Pi), rapid.Float64Range(-1000, 1000),
		rapid.SampledFrom([]float64{0, math.Pi, -math.Pi, 3 * math.Pi, math.Pi / 2}),
	)).Draw(t, "angles")
	const tolerance = 1e-11 // a few roundings of numbers below 1e4, and of as many turns of 2 pi
	got := twist.Unwrap(nil, angles)
	for i, a := range got {
		if math.Abs(wrap(a-angles[i])) > tolerance {
			t.Fatalf("angle %d moved by %v", i, a-angles[i])
		}
		if i > 0 && math.Abs(a-got[i-1]) > math.Pi+tolerance {
			t.Fatalf("step %d is %v", i, a-got[i-1])
		}
	}
}

// propertyUnwrapTurns: a smooth twist through many turns, seen only modulo a
// turn, comes back whole.
func propertyUnwrapTurns(t *rapid.T) {
	rate := rapid.Float64Range(-3, 3).Draw(t, "rate")
	var u twist.Unwrapper
	for i := range 200 {
		want := rate * float64(i)
		if got := u.Next(wrap(want)); math.Abs(got-want) > 1e-11 {
			t.Fatalf("at %d: %v, want %v", i, got, want)
		}
	}
}
