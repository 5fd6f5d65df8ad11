package notebook

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// afterTheDoor is a program of somebody's own, below the cells that make the door.
const afterTheDoor = `
import sys
lines = [json.loads(line) for line in sys.stdin]
flags = ["--limbs", sys.argv[1], "--limb", "thigh_l", "--axis=0,-1,0"]
answers = solve(lines, *flags)
try:
    solve([{"rotation": [0, 0, 0, 0]}], *flags)
    complaint = ""
except RuntimeError as error:
    complaint = str(error)
print(json.dumps({"answers": answers, "complaint": complaint}))
`

// The cells tagged "door" need nothing of the others, nor any package; what comes
// through them is package chain's balanced field to the bit, and errors come out.
func TestDoorStandsAlone(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("needs python3")
	}
	folder := t.TempDir()
	program, limbs := filepath.Join(folder, "pronate"), filepath.Join(folder, "limbs.yaml")
	out, err := exec.Command("go", "build", "-o", program, "github.com/pronate/pronate/cmd/pronate").CombinedOutput()
	require.NoError(t, err, "%s", out)
	require.NoError(t, os.WriteFile(limbs, []byte("version: 1\nlimbs: [{joint: thigh_l, end: shin_l, field: balanced}]\n"), 0o600))

	turns := [][4]float64{{0.1, 0.2, 0.3, 0.9}, {-0.8, 0.3, 0.1, 0.5}, {-0.5, -0.5, 0.5, 0.5}}
	var in strings.Builder
	for _, q := range turns {
		require.NoError(t, json.NewEncoder(&in).Encode(map[string]any{"rotation": q}))
	}
	command := exec.Command(python, "-c", door(t)+afterTheDoor, limbs)
	command.Env = append(os.Environ(), "PRONATE="+program)
	command.Stdin = strings.NewReader(in.String())
	command.Stderr = os.Stderr
	out, err = command.Output()
	require.NoError(t, err)
	var got struct {
		Answers []struct {
			Swing    [4]float64   `json:"swing"`
			Segments [][4]float64 `json:"segments"`
		} `json:"answers"`
		Complaint string `json:"complaint"`
	}
	require.NoError(t, json.Unmarshal(out, &got))
	require.Contains(t, got.Complaint, `{"line":1,"error":"rotation is zero`)

	thigh := asset.LimbSpec{Joint: "thigh_l", End: asset.End{Joint: "shin_l"}, Field: asset.FieldBalanced}
	solver, _, err := thigh.Solver(asset.Stance{Axis: r3.Vec{Y: -1}})
	require.NoError(t, err)
	segments := make([]quat.Number, solver.Segments())
	require.Len(t, got.Answers, len(turns))
	list := func(q quat.Number) [4]float64 { return [4]float64{q.Imag, q.Jmag, q.Kmag, q.Real} }
	for i, v := range turns {
		joint := quat.Number{Real: v[3], Imag: v[0], Jmag: v[1], Kmag: v[2]}
		result := solver.SolveFromRest(segments, joint, quat.Number{})
		require.Equal(t, list(solver.Swing(joint, result)), got.Answers[i].Swing)
		require.Len(t, got.Answers[i].Segments, len(segments))
		for k, q := range segments {
			require.Equal(t, list(q), got.Answers[i].Segments[k], "line %d, segment %d", i+1, k+1)
		}
	}
}

// door is the source of the cells tagged so.
func door(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("twist.ipynb")
	require.NoError(t, err)
	var book struct {
		Cells []struct {
			Source   []string `json:"source"`
			Metadata struct {
				Tags []string `json:"tags"`
			} `json:"metadata"`
		} `json:"cells"`
	}
	require.NoError(t, json.Unmarshal(data, &book))
	var source strings.Builder
	for _, cell := range book.Cells {
		if slices.Contains(cell.Metadata.Tags, "door") {
			source.WriteString(strings.Join(cell.Source, "") + "\n")
		}
	}
	require.NotEmpty(t, source.String(), `cells tagged "door"`)
	return source.String()
}
