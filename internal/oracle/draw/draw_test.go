package draw_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/internal/oracle/draw"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestReach makes sure the generators reach what they are for.
func TestReach(t *testing.T) {
	var tiny, huge, plain, negativeZero int
	for seed := range 2000 {
		v := draw.Direction().Example(seed)
		require.NotEqual(t, r3.Vec{}, v)
		most := max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
		require.LessOrEqual(t, most, math.MaxFloat64)
		switch {
		case most < 0x1p-1022:
			tiny++
		case most > 0x1p+512:
			huge++
		default:
			plain++
		}
		if v.X == 0 && math.Signbit(v.X) {
			negativeZero++
		}
		require.NotEqual(t, quat.Number{}, draw.Rotation().Example(seed))
		require.InDelta(t, 1, r3.Norm(draw.Unit().Example(seed)), 1e-15)
		require.InDelta(t, 1, quat.Abs(draw.UnitRotation().Example(seed)), 1e-15)
	}
	require.Greater(t, tiny, 10)
	require.Greater(t, huge, 20)
	require.Greater(t, plain, 1000)
	require.Greater(t, negativeZero, 10)
}
