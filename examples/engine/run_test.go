package engine

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The hosts build without a warning and get the table's bits, in every language
// that there are tools for.
func TestQuickRun(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the hosts are written for Linux")
	}
	if testing.Short() {
		t.Skip("building the hosts takes a while")
	}
	for _, tool := range []string{"sh", "gcc"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skip("there is no " + tool)
		}
	}
	touch(t, "host", "host.py", "run.sh", "../../cmd/libpronate", "../../internal/engine")
	folder := t.TempDir()
	command := exec.Command("sh", "run.sh", "quick")
	command.Env = append(os.Environ(), "CC=gcc", "OUT="+folder)
	out, err := command.CombinedOutput()
	require.NoError(t, err, "%s", out)
	text := string(out)

	// Each host says so at its end, if it is not skipped.
	ran := strings.Count(text, "\nall as it should be\n")
	require.Equal(t, 4, ran+strings.Count(text, "\nskipped: "), text)
	require.GreaterOrEqual(t, ran, 2, text)

	// A second of game time meets three of the table's five frames: five rows a limb.
	require.Contains(t, text, "60 frames of 16000 limbs, 1 thread: 120 rows of the table compared, 0 wrong\n")
	require.Contains(t, text, "60 frames of 16000 limbs, 2 threads: 120 rows of the table compared, 0 wrong\n")
	if !strings.Contains(text, "there is no python3") {
		require.Contains(t, text, "\n200 rows of the table compared, 0 wrong\n")
	}
	for _, line := range []string{"the step comes back, and the end turns with its joint", "same bits as by specification", "same bits, and nothing else touched"} {
		require.Contains(t, text, line)
	}
	t.Run("a wrong bit", func(t *testing.T) { findsAWrongBit(t, folder) })
}

// A host that is told other bits must say so, or its silence means nothing. A
// character's last digit is changed, and then a hash's.
func findsAWrongBit(t *testing.T, folder string) {
	good, err := os.ReadFile("expected.txt")
	require.NoError(t, err)
	lines := strings.Split(string(good), "\n")
	for prefix, complaint := range map[string]string{
		"0 0 0 ":   "frame 0, thigh_l: character 0 is not the table's",
		"59 7 all": "frame 59, shin_r: the hash of all characters is not the table's",
	} {
		bad := slices.Clone(lines)
		i := slices.IndexFunc(bad, func(line string) bool { return strings.HasPrefix(line, prefix) })
		require.GreaterOrEqual(t, i, 0, prefix)
		last := len(bad[i]) - 1
		bad[i] = bad[i][:last] + map[bool]string{true: "1", false: "0"}[bad[i][last] == '0']
		path := filepath.Join(folder, "bad.txt")
		require.NoError(t, os.WriteFile(path, []byte(strings.Join(bad, "\n")), 0o644))
		out, err := exec.Command(filepath.Join(folder, "host"), "--quick", "--table", path).CombinedOutput()
		var exit *exec.ExitError
		require.ErrorAs(t, err, &exit, "%s", out)
		require.Equal(t, 1, exit.ExitCode(), "%s", out)
		require.Contains(t, string(out), complaint)
		require.Contains(t, string(out), "120 rows of the table compared, 1 wrong\n")
		if _, err := exec.LookPath("python3"); err == nil {
			out, err := exec.Command("python3", "-B", "host.py", filepath.Join(folder, "libpronate.so"), path).CombinedOutput()
			require.ErrorAs(t, err, &exit, "%s", out)
			require.Contains(t, string(out), "200 rows of the table compared, 1 wrong\n")
		}
	}
}

// touch opens files, so that go test takes them for what the result depends on: of
// what the shell reads it does not know.
func touch(t *testing.T, paths ...string) {
	for _, path := range paths {
		require.NoError(t, filepath.WalkDir(path, func(path string, _ fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			file, err := os.Open(path)
			if err != nil {
				return err
			}
			return file.Close()
		}))
	}
}
