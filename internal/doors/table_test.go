package doors

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// tableName is the committed table.
const tableName = "table.json"

// limb is one of the table's limbs, with its poses.
type limb struct {
	Name     string          `json:"name"`
	File     json.RawMessage `json:"limb"`   // as a limb file has it
	Solver   json.RawMessage `json:"solver"` // the specification that JavaScript and C make it from
	Segments int             `json:"segments"`
	Poses    []pose          `json:"poses"`
}

// pose is what goes into a solve, and what comes out.
type pose struct {
	Name  string   `json:"pose"`
	Joint bits64   `json:"joint"`         // from rest; float32 doors take the nearest
	Tip   *bits64  `json:"tip,omitempty"` // where the limb reads it
	Want  *answers `json:"want,omitempty"`
}

// answers are the segments' quaternions in the joint's frame, in one precision or
// both.
type answers struct {
	Double []bits64 `json:"float64,omitempty"`
	Single []bits32 `json:"float32,omitempty"`
}

// bits64 is a quaternion x, y, z, w, and its text four decimals that
// are read back to the last bit.
type bits64 [4]float64

// bits32 is the same in single precision.
type bits32 [4]float32

// readTable reads the committed table.
func readTable(t testing.TB) []limb {
	t.Helper()
	data, err := os.ReadFile(tableName)
	require.NoError(t, err)
	var table []limb
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.DisallowUnknownFields()
	require.NoError(t, decoder.Decode(&table))
	return table
}

// textOf is the table's file: a line a limb's head and a line a pose.
func textOf(t testing.TB, table []limb) string {
	t.Helper()
	var b strings.Builder
	line := func(format string, values ...any) {
		for i, v := range values {
			text, err := json.Marshal(v)
			require.NoError(t, err)
			values[i] = text
		}
		fmt.Fprintf(&b, format+"\n", values...)
	}
	b.WriteString("[\n")
	for i, l := range table {
		line(`{"name": %s, "segments": %s,`, l.Name, l.Segments)
		line(` "limb": %s,`, l.File)
		line(` "solver": %s,`, l.Solver)
		b.WriteString(" \"poses\": [\n")
		for k, p := range l.Poses {
			line("  %s"+comma(k, len(l.Poses)), p)
		}
		b.WriteString(" ]}" + comma(i, len(table)) + "\n")
	}
	b.WriteString("]\n")
	return b.String()
}

// comma follows all but the last.
func comma(i, n int) string {
	if i+1 < n {
		return ","
	}
	return ""
}

// questions is the table without answers, which is all that a door gets to see.
func questions(table []limb) []limb {
	out := append([]limb(nil), table...)
	for i, l := range out {
		out[i].Poses = append([]pose(nil), l.Poses...)
		for k := range out[i].Poses {
			out[i].Poses[k].Want = nil
		}
	}
	return out
}
