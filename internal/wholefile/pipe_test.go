//go:build unix

package wholefile

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// A pipe is written to and stays one.
func TestWriteIntoPipe(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "pipe")
	require.NoError(t, syscall.Mkfifo(path, 0o600))
	read := make(chan string)
	go func() {
		data, _ := os.ReadFile(path)
		read <- string(data)
	}()
	require.NoError(t, Write(path, []byte("through")))
	require.Equal(t, "through", <-read)
	only(t, folder, "pipe")
}
