package wholefile

import (
	"os"
	"path/filepath"
	"strings"
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
	require.NoError(t, Write(path, []byte("two")))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "two", string(data))
	only(t, folder, "a.txt")
}

// A link stays a link, and what it leads to is written, there or not yet; ".."
// in a link is that of the folder the link really lies in.
func TestWriteThroughLinks(t *testing.T) {
	folder := t.TempDir()
	real := filepath.Join(folder, "real")
	require.NoError(t, os.Mkdir(real, 0o755))
	require.NoError(t, os.Symlink("real", filepath.Join(folder, "alias")))
	require.NoError(t, os.Symlink("../a.txt", filepath.Join(real, "link")))
	path := filepath.Join(folder, "alias", "link")
	for _, text := range []string{"new", "over"} {
		require.NoError(t, Write(path, []byte(text)))
		data, err := os.ReadFile(filepath.Join(folder, "a.txt"))
		require.NoError(t, err)
		require.Equal(t, text, string(data))
	}
	info, err := os.Lstat(path)
	require.NoError(t, err)
	require.Equal(t, os.ModeSymlink, info.Mode().Type())
	only(t, folder, "a.txt", "alias", "real")
	only(t, real, "link")

	require.NoError(t, os.Symlink("round", filepath.Join(folder, "round")))
	require.EqualError(t, Write(filepath.Join(folder, "round"), nil), filepath.Join(folder, "round")+": symbolic links without an end")
}

// A failure names what was asked for, leaves nothing behind, and the old stays.
func TestFailureLeavesNothing(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "taken")
	require.NoError(t, os.Mkdir(path, 0o755))
	require.EqualError(t, Write(path, []byte("x")), path+": is a folder, expected a file")
	only(t, folder, "taken")
	path = filepath.Join(folder, "no", "folder")
	require.EqualError(t, Write(path, []byte("x")), path+": no such folder")
	path = filepath.Join(folder, strings.Repeat("long", 100))
	require.EqualError(t, Write(path, []byte("x")), path+": file name too long")
	only(t, folder, "taken")
}
