package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// From the radius left in the middle of a span, cos(angle/2) (linear blending:
// Magnenat-Thalmann, Laperrière & Thalmann 1988; Lewis, Cordner & Fong 2000).
func TestSpans(t *testing.T) {
	tests := []struct {
		name          string
		degrees, loss float64
		want          int
	}{
		{"none", 0, 0.1, 0},
		{"a hair", 1e-9, 0.1, 1},
		{"subnormal loss of a small twist", 1e-170, 5e-324, 1},
		{"wrist, 15 percent", 80, 0.15, 2},
		{"wrist, 5 percent", 80, 0.05, 3},
		{"wrist, 1 percent", 80, 0.01, 5},
		{"other way", -80, 0.01, 5},
		{"half turn, all may go", 180, 1, 1},
		{"more than half a turn, all may go", 181, 1, 2},
		{"60 over 2", 60, 1 - math.Sqrt(0.75), 1},
		{"120, half", 120, 0.5, 1},
		{"120.1, half", 120.1, 0.5, 2},
		{"360, half", 360, 0.5, 3},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, err := Spans(radians(test.degrees), test.loss)
			require.NoError(t, err)
			require.Equal(t, test.want, got)
			segments, err := Segments(radians(test.degrees), test.loss)
			require.NoError(t, err)
			require.Equal(t, test.want+1, segments)
		})
	}
}

// A loss worked out as 1 - cos(T/2k) asks for k spans, not one more, whatever
// the rounding.
func TestSpansExactMultiples(t *testing.T) {
	for _, degrees := range []float64{5, 30, 45, 60, 77.7, 90, 135, 150, 180} {
		for k := 1; k <= 64; k++ {
			loss := 1 - math.Cos(radians(degrees)/float64(2*k))
			got, err := Spans(radians(degrees), loss)
			require.NoError(t, err)
			require.Equal(t, k, got, "%v degrees, loss %v", degrees, loss)
		}
	}
}

// The count holds the loss, and one less does not.
func spansAreEnoughAndLeast(t *rapid.T) {
	twist := rapid.Float64Range(-20, 20).Draw(t, "twist")
	loss := rapid.OneOf(rapid.Float64Range(1e-6, 1), rapid.SampledFrom([]float64{1, 0.5})).Draw(t, "loss")
	k, err := Spans(twist, loss)
	require.NoError(t, err)
	if k == 0 {
		require.Zero(t, twist)
		return
	}
	left := func(k int) float64 { return math.Cos(min(math.Abs(twist)/float64(2*k), math.Pi)) }
	require.GreaterOrEqual(t, left(k), 1-loss-2*MaxLossError)
	if k > 1 {
		require.Less(t, left(k-1), 1-loss)
	}
}

func TestSpansAreEnoughAndLeast(t *testing.T) { rapid.Check(t, spansAreEnoughAndLeast) }
func FuzzSpansAreEnoughAndLeast(f *testing.F) { f.Fuzz(rapid.MakeFuzz(spansAreEnoughAndLeast)) }

func TestPlanErrors(t *testing.T) {
	tests := []struct {
		name        string
		twist, loss float64
		atLeast     int
		want        string
	}{
		{"NaN twist", math.NaN(), 0.1, 0, "skin: twist = NaN rad, expected a finite angle"},
		{"infinite twist", math.Inf(-1), 0.1, 0, "skin: twist = -Inf rad, expected a finite angle"},
		{"no loss", 1, 0, 0, "skin: loss = 0, expected a fraction above 0, at most 1"},
		{"negative loss", 1, -0.1, 0, "skin: loss = -0.1, expected a fraction above 0, at most 1"},
		{"a percentage", 1, 5, 0, "skin: loss = 5, expected a fraction above 0, at most 1"},
		{"NaN loss", 1, math.NaN(), 0, "skin: loss = NaN, expected a fraction above 0, at most 1"},
		{"too fine", 3000, 1e-4, 0, "skin: a twist of 3000 rad at a loss of 0.0001 needs 106066 spans, expected at most 65536"},
		{"too many rows", 1, 0.1, 1 << 40, "skin: a plan of 1099511627776 rows, expected at most 65536"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			rows, err := Plan(test.twist, test.loss, test.atLeast)
			require.EqualError(t, err, test.want)
			require.Nil(t, rows)
			if test.atLeast == 0 {
				_, err = Segments(test.twist, test.loss)
				require.EqualError(t, err, test.want)
			}
		})
	}
}

// 90 degrees over one to four spans: least radius and volume to six digits
// (linear blending, sources as above).
func TestPlanPublished(t *testing.T) {
	rows, err := Plan(-radians(90), 0.02, 0)
	require.NoError(t, err)
	require.Len(t, rows, 5, "1 - cos(90/8 degrees) is the first below 2 percent")
	require.Equal(t, rows[0].LeastRadius, rows[1].LeastRadius, "two segments spread the loss, they do not lessen it")
	require.Equal(t, []int{0, 2, 3, 4, 5}, []int{rows[0].Joints, rows[1].Joints, rows[2].Joints, rows[3].Joints, rows[4].Joints})
	for i, row := range []struct{ radius, volume float64 }{
		{.707107, .666667}, {.923880, .902369}, {.965926, .955342}, {.980785, .974627},
	} {
		got := rows[i+1]
		require.Equal(t, i+2, got.Segments)
		require.InDelta(t, radians(90)/float64(i+1), got.SpanAngle, 4*eps)
		require.InDelta(t, row.radius, got.LeastRadius, 5e-7)
		require.InDelta(t, row.volume, got.Volume, 5e-7)
	}
}

func TestPlanRows(t *testing.T) {
	rows, err := Plan(0, 0.1, -3)
	require.NoError(t, err)
	require.Equal(t, []PlanRow{{Segments: 1, LeastRadius: 1, Volume: 1, DualQuaternion: 1}}, rows, "no twist needs one segment")

	rows, err = Plan(radians(400), 0.9, 4)
	require.NoError(t, err)
	require.Len(t, rows, 4)
	require.Zero(t, rows[0].LeastRadius, "past half a turn a span has collapsed")
	require.Zero(t, rows[0].DualQuaternion, "and turns the other way round")
	require.InDelta(t, 1./3, rows[0].Volume, 4*eps)
	require.Greater(t, rows[3].LeastRadius, 0.39)
}

func BenchmarkSpans(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Spans(1.4, 0.01); err != nil {
			b.Fatal(err)
		}
	}
}
