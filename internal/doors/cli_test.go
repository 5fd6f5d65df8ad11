package doors

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// shell is the command line's program, and where its files are.
type shell struct{ pronate, folder, character string }

func newShell(t testing.TB) shell {
	t.Helper()
	folder := t.TempDir()
	s := shell{pronate(t), folder, filepath.Join(folder, wrenName)}
	_, data := wren(t)
	require.NoError(t, os.WriteFile(s.character, data, 0o600))
	return s
}

// flags are solve's for a limb. Each has a limb file to itself, for no two of a file
// may share a joint.
func (s shell) flags(t testing.TB, l limb) []string {
	t.Helper()
	path := filepath.Join(s.folder, strings.NewReplacer(" ", "-", ",", "").Replace(l.Name)+".yaml")
	require.NoError(t, os.WriteFile(path, l.limbFile(), 0o600))
	return []string{"--character", s.character, "--limbs", path, "--limb", l.Name, "--local"}
}

// solve has rotations solved, as text in and text out.
func (s shell) solve(t testing.TB, l limb, in string, flags ...string) string {
	t.Helper()
	program := exec.Command(s.pronate, append(append([]string{"solve"}, s.flags(t, l)...), flags...)...)
	program.Stdin = strings.NewReader(in)
	return string(output(t, program))
}

// lines are a limb's poses in NDJSON.
func lines(t testing.TB, l limb) (out []json.RawMessage) {
	t.Helper()
	for _, p := range l.Poses {
		line := map[string][4]float64{"rotation": p.Joint}
		if p.Tip != nil {
			line["tip"] = *p.Tip
		}
		text, err := json.Marshal(line)
		require.NoError(t, err)
		out = append(out, text)
	}
	return out
}

// byNDJSON has one object a line.
func byNDJSON(t *testing.T, ask []limb) (out [][]answers) {
	s := newShell(t)
	for _, l := range ask {
		var in strings.Builder
		for _, line := range lines(t, l) {
			fmt.Fprintf(&in, "%s\n", line)
		}
		var gave []answers
		said := json.NewDecoder(strings.NewReader(s.solve(t, l, in.String())))
		for said.More() {
			var line struct {
				Segments []listed `json:"segments"`
			}
			require.NoError(t, said.Decode(&line))
			gave = append(gave, answersOf(line.Segments))
		}
		out = append(out, gave)
	}
	return out
}

// listed is a quaternion as a list of numbers.
type listed [4]float64

func answersOf(segments []listed) (out answers) {
	for _, q := range segments {
		out.Double = append(out.Double, bits64(q))
	}
	return out
}

// byCSV has one row a line.
func byCSV(t *testing.T, ask []limb) (out [][]answers) {
	s := newShell(t)
	for _, l := range ask {
		rows, err := csv.NewReader(strings.NewReader(s.solve(t, l, tableOf(l), "--csv"))).ReadAll()
		require.NoError(t, err)
		require.NotEmpty(t, rows)
		at := map[string]int{}
		for i, name := range rows[0] {
			at[name] = i
		}
		var gave []answers
		for _, row := range rows[1:] {
			var numbers []float64
			for i := range l.Segments {
				for _, part := range "xyzw" {
					column, ok := at[fmt.Sprintf("segment%d_%c", i+1, part)]
					require.True(t, ok, "%s: no column for segment %d", l.Name, i+1)
					x, err := strconv.ParseFloat(row[column], 64)
					require.NoError(t, err)
					numbers = append(numbers, x)
				}
			}
			gave = append(gave, gathered(numbers, nil))
		}
		out = append(out, gave)
	}
	return out
}

// tableOf is a limb's poses in CSV.
func tableOf(l limb) string {
	var out strings.Builder
	out.WriteString("rotation_x,rotation_y,rotation_z,rotation_w")
	if l.Poses[0].Tip != nil {
		out.WriteString(",tip_x,tip_y,tip_z,tip_w")
	}
	for _, p := range l.Poses {
		numbers := p.Joint[:]
		if p.Tip != nil {
			numbers = append(numbers[:4:4], p.Tip[:]...)
		}
		for i, x := range numbers {
			out.WriteString(map[bool]string{true: "\n", false: ","}[i == 0] + strconv.FormatFloat(x, 'g', -1, 64))
		}
	}
	return out.String() + "\n"
}
