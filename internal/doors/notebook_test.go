package doors

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// notebookFile is the notebook whose cells with the tag "door" define solve.
const notebookFile = "../../examples/notebook/twist.ipynb"

// asking is the cell that the test appends to them.
const asking = `with open(os.environ["QUESTIONS"]) as file:
    questions = json.load(file)
print(json.dumps([[answer["segments"] for answer in solve(q["lines"], *q["flags"])] for q in questions]))`

// inNotebook executes the cells that solve, and one more that has the table solved.
func inNotebook(t *testing.T, ask []limb) (out [][]answers) {
	needs(t, "jupyter-nbconvert")
	folder := t.TempDir()
	book := filepath.Join(folder, "doors.ipynb")
	require.NoError(t, os.WriteFile(book, doorCells(t), 0o600))
	questions := filepath.Join(folder, "questions.json")
	require.NoError(t, os.WriteFile(questions, questionsForPython(t, ask), 0o600))

	run := exec.Command("jupyter-nbconvert", "--execute", "--to", "notebook", "--output", "done", book)
	run.Env = append(os.Environ(), "PRONATE="+pronate(t), "QUESTIONS="+questions, "IPYTHONDIR="+filepath.Join(folder, "ipython"), "PYDEVD_DISABLE_FILE_VALIDATION=1")
	said, err := run.CombinedOutput()
	if strings.Contains(string(said), "NoSuchKernel") {
		lacking(t, "jupyter has no kernel for Python (ipykernel)")
	}
	require.NoError(t, err, "%s", said)
	var solved [][][]listed
	require.NoError(t, json.Unmarshal(lastOutput(t, filepath.Join(folder, "done.ipynb")), &solved))
	for _, poses := range solved {
		var gave []answers
		for _, segments := range poses {
			gave = append(gave, answersOf(segments))
		}
		out = append(out, gave)
	}
	return out
}

// doorCells is the notebook with the cells that solve, and the asking one.
func doorCells(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile(notebookFile)
	require.NoError(t, err)
	var book map[string]any
	require.NoError(t, json.Unmarshal(data, &book))
	var cells []any
	for _, cell := range book["cells"].([]any) {
		tags, _ := cell.(map[string]any)["metadata"].(map[string]any)["tags"].([]any)
		if slices.Contains(tags, any("door")) {
			cells = append(cells, cell)
		}
	}
	require.NotEmpty(t, cells, "no cell of %s has the tag door", notebookFile)
	book["cells"] = append(cells, map[string]any{
		"id": "asking", "cell_type": "code", "metadata": map[string]any{}, "outputs": []any{}, "execution_count": nil, "source": asking,
	})
	data, err = json.Marshal(book)
	require.NoError(t, err)
	return data
}

// questionsForPython are flags and lines for each limb.
func questionsForPython(t testing.TB, ask []limb) []byte {
	t.Helper()
	type question struct {
		Flags []string          `json:"flags"`
		Lines []json.RawMessage `json:"lines"`
	}
	var out []question
	s := newShell(t)
	for _, l := range ask {
		out = append(out, question{s.flags(t, l), lines(t, l)})
	}
	data, err := json.Marshal(out)
	require.NoError(t, err)
	return data
}

// lastOutput is what the last cell of an executed notebook printed.
func lastOutput(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	var book struct {
		Cells []struct {
			Outputs []struct {
				Text []string `json:"text"`
			} `json:"outputs"`
		} `json:"cells"`
	}
	require.NoError(t, json.Unmarshal(data, &book))
	require.NotEmpty(t, book.Cells)
	last := book.Cells[len(book.Cells)-1]
	require.Len(t, last.Outputs, 1, "%s", data)
	return []byte(strings.Join(last.Outputs[0].Text, ""))
}
