package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The one form read as the other is told once, not line by line.
func TestSolveKnowsTheOtherForm(t *testing.T) {
	got := pronate(t, "rotation_x,rotation_y,rotation_z,rotation_w\n0,0,0,1\n0,0,0,1\n", "solve")
	require.Equal(t, exitFailed, got.code)
	require.Equal(t, `{"line":1,"error":"is the header of CSV, expected one JSON object; --csv reads it"}`+"\n", got.err)
	got = pronate(t, "{\"rotation\":[0,0,0,1]}\n", "solve", "--csv")
	require.Equal(t, exitFailed, got.code)
	require.Contains(t, got.err, "line 1 is a JSON object, expected a header of CSV; without --csv it is read")
	require.Empty(t, got.out)
}
