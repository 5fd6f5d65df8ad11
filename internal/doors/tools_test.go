package doors

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"

	"github.com/pronate/pronate/internal/fixture/touch"
	"github.com/stretchr/testify/require"
)

// lacking ends a door's test: what is said is not there.
func lacking(t testing.TB, what string) {
	t.Helper()
	switch os.Getenv("PRONATE_DOORS") {
	case "all":
		t.Fatalf("%s, and PRONATE_DOORS asks for all doors", what)
	case "":
		t.Skip(what)
	default:
		t.Fatalf("PRONATE_DOORS is %q, expected all or nothing", os.Getenv("PRONATE_DOORS"))
	}
}

// needs skips a door whose programs are not there, and in short runs.
func needs(t testing.TB, programs ...string) {
	t.Helper()
	if testing.Short() {
		t.Skip("other programs than Go's take a while")
	}
	for _, program := range programs {
		if _, err := exec.LookPath(program); err != nil {
			lacking(t, "there is no "+program)
		}
	}
}

// build builds a command of this module into a folder, with settings of the
// environment and flags, and gives its path.
func build(t testing.TB, command, folder, output string, environment []string, flags ...string) string {
	t.Helper()
	touch.Files(t, filepath.Join("..", "..", command, "*.*"))
	out := filepath.Join(folder, output)
	run := exec.Command("go", append(append([]string{"build"}, flags...), "-o", out, "../../"+command)...)
	run.Env = append(os.Environ(), environment...)
	said, err := run.CombinedOutput()
	require.NoError(t, err, "%s", said)
	return out
}

var built struct {
	sync.Once
	folder, pronate string
}

// pronate is the command line's program, built once for the doors that need it.
func pronate(t testing.TB) string {
	t.Helper()
	built.Do(func() {
		folder, err := os.MkdirTemp("", "doors")
		require.NoError(t, err)
		built.folder = folder
		built.pronate = build(t, "cmd/pronate", folder, "pronate", nil)
	})
	require.NotEmpty(t, built.pronate, "pronate did not build")
	return built.pronate
}

func TestMain(m *testing.M) {
	code := m.Run()
	if built.folder != "" {
		_ = os.RemoveAll(built.folder)
	}
	os.Exit(code)
}

// output runs a program and gives what it wrote; what it complained of it shows.
func output(t testing.TB, program *exec.Cmd) []byte {
	t.Helper()
	program.Stderr = &complaints{t}
	out, err := program.Output()
	require.NoError(t, err, "%s: %s", program, out)
	return out
}

type complaints struct{ t testing.TB }

func (c *complaints) Write(text []byte) (int, error) {
	c.t.Logf("%s", text)
	return len(text), nil
}

// script has node run one of the folder's scripts: questions go in as a file, answers
// come out as JSON.
func script(t testing.TB, ask []limb, name string, arguments ...string) [][]answers {
	t.Helper()
	touch.Files(t, "*.mjs")
	data, err := json.Marshal(ask)
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "questions.json")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	return parsed(t, output(t, exec.Command("node", append([]string{name, path}, arguments...)...)))
}

func parsed(t testing.TB, text []byte) (out [][]answers) {
	t.Helper()
	require.NoError(t, json.Unmarshal(text, &out), "%s", text)
	return out
}
