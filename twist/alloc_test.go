package twist_test

import (
	"testing"
	"unsafe"

	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
)

func TestNoAllocations(t *testing.T) {
	angles := make([]float64, 100)
	var u twist.Unwrapper
	for _, in := range inputs {
		for name, f := range map[string]func(){
			"Split":           func() { sinkParts, _ = twist.Split(in.q, in.axis) },
			"SplitSwingFirst": func() { sinkParts, _ = twist.SplitSwingFirst(in.q, in.axis) },
			"Angle":           func() { sinkFloat, _ = twist.Angle(in.q, in.axis) },
			"About":           func() { sinkQuat = twist.About(in.axis, 1.5) },
			"Power":           func() { sinkQuat, _ = twist.Power(in.q, in.axis, 0.5) },
			"Unwrap":          func() { angles = twist.Unwrap(angles, angles) },
			"Next":            func() { sinkFloat = u.Next(sinkFloat + 4) },
		} {
			require.Zero(t, testing.AllocsPerRun(100, f), "%s, %s", name, in.name)
		}
	}
	require.NoError(t, twist.CheckShares(twist.Linear(4), 4))
	shares := twist.Linear(4)
	require.Zero(t, testing.AllocsPerRun(100, func() {
		if twist.CheckShares(shares, 4) != nil {
			t.Fail()
		}
	}))
}

// TestSizes: two quaternions and a number, with nothing between.
func TestSizes(t *testing.T) {
	require.Equal(t, uintptr(72), unsafe.Sizeof(twist.Parts{}))
}
