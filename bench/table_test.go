package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func someResults() results {
	none, off := 0.0, 2.5e-16
	var rs results
	rs.add(row{Task: limb, Name: "slow", Precision: float64s, NsPerLimb: 300, Allocations: &none, MaxError: &off})
	rs.add(row{Task: limb, Name: "absent", Note: "needs luck"})
	rs.add(row{Task: limb, Name: base, Precision: float64s, NsPerLimb: 60, MaxError: &off})
	rs.add(row{Task: limb, Name: base, Precision: float64s, NsPerLimb: 50, MaxError: &off})
	rs.add(row{Task: limb, Name: base, Precision: float64s, NsPerLimb: 55, MaxError: &off})
	rs.add(row{Task: limb, Name: "short", Precision: float32s, NsPerLimb: 1.25, Note: "9 GB/s"})
	rs.finish()
	return rs
}

func TestTable(t *testing.T) {
	var out strings.Builder
	require.NoError(t, someResults().print(&out))
	var lines []string
	for line := range strings.Lines(out.String()) {
		lines = append(lines, strings.Join(strings.Fields(line), " "))
	}
	require.Equal(t, []string{
		titles[0].title,
		"precision ns a limb to Eigen, careful allocations max error",
		"Eigen, careful float64 50.0 1.00 2.5e-16",
		"slow float64 300 6.00 0 2.5e-16",
		"short float32 1.25 9 GB/s",
		"absent needs luck",
		"",
	}, lines)
}

func TestRowsAsJSON(t *testing.T) {
	text, err := json.Marshal(someResults()[0])
	require.NoError(t, err)
	require.JSONEq(t, `{"task": "limb", "name": "slow", "precision": "float64", "ns_per_limb": 300,
		"ratio": 6, "allocations": 0, "max_error": 2.5e-16}`, string(text))
}

func TestFigure(t *testing.T) {
	for x, want := range map[float64]string{0: "", 0.123: "0.12", 9.876: "9.88", 56.789: "56.8", 1234.5: "1234"} {
		require.Equal(t, want, figure(x))
	}
}
