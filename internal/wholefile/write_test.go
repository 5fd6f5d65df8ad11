package wholefile

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func only(t *testing.T, folder string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	var found []string
	for _, e := range entries {
		found = append(found, e.Name())
	}
	require.Equal(t, names, found)
}

func TestWriteNewAndOver(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.txt")
	require.NoError(t, Write(path, []byte("one")))
	require.NoError(t, os.Chmod(path, 0o640))
	require.NoError(t, Write(path, []byte("two")))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "two", string(data))
	info, err := os.Stat(path)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o640), info.Mode().Perm(), "an existing file keeps its mode")
	only(t, folder, "a.txt")
}

// Where the rename cannot be done, nothing is left behind and the old stays.
func TestFailureLeavesNothing(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "taken")
	require.NoError(t, os.Mkdir(path, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(path, "inside"), nil, 0o644))
	require.Error(t, Write(path, []byte("x")))
	only(t, folder, "taken")
	require.Error(t, Write(filepath.Join(folder, "no", "folder"), []byte("x")))
	only(t, folder, "taken")
}
