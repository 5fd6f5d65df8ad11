package library

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// The hash is of the whole file, however much of it is read; what leads out of the
// folder is not read at all.
func TestWitness(t *testing.T) {
	folder := t.TempDir()
	inner := filepath.Join(folder, "in")
	require.NoError(t, os.Mkdir(inner, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "secret.bin"), []byte("x"), 0o644))
	require.NoError(t, os.Symlink("../secret.bin", filepath.Join(inner, "out.bin")))
	require.NoError(t, os.WriteFile(filepath.Join(inner, "a.bin"), []byte("whole"), 0o644))
	w := newWitness(filepath.Join(inner, "a.gltf"))
	file, err := w.Open("a.bin")
	require.NoError(t, err)
	_, err = file.Read(make([]byte, 2))
	require.NoError(t, err)
	require.NoError(t, file.Close())
	for _, name := range []string{"out.bin", "none.bin"} {
		_, err := w.Open(name)
		require.Error(t, err, name)
	}
	_, err = w.Open("../secret.bin")
	require.Error(t, err)
	require.Equal(t, map[string]string{"a.bin": sum([]byte("whole")), "out.bin": unread, "none.bin": unread}, w.sums)
	again := newWitness(filepath.Join(inner, "a.gltf"))
	again.look(w.names())
	require.Equal(t, w.origin("shape", "source"), again.origin("shape", "source"))
	require.NotEqual(t, w.origin("shape", "source"), w.origin("shape", "other"))
}
