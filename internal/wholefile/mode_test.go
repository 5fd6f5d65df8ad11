//go:build unix

package wholefile

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// An existing file keeps its mode, whatever the umask; a new one's goes by it.
func TestModeUnderAnyUmask(t *testing.T) {
	defer syscall.Umask(syscall.Umask(0o027))
	folder := t.TempDir()
	mode := func(path string) os.FileMode {
		info, err := os.Stat(path)
		require.NoError(t, err)
		return info.Mode().Perm()
	}
	path := filepath.Join(folder, "new")
	require.NoError(t, Write(path, []byte("one")))
	require.Equal(t, os.FileMode(0o640), mode(path))
	for _, kept := range []os.FileMode{0o600, 0o640, 0o644, 0o664, 0o666, 0o444, 0o755} {
		require.NoError(t, os.Chmod(path, kept))
		require.NoError(t, Write(path, []byte("two")))
		require.Equal(t, kept, mode(path))
	}
	only(t, folder, "new")
}
