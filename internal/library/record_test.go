package library

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// Many puts at once: the file has each as soon as put comes back.
func TestRecordServesAll(t *testing.T) {
	r, err := readRecord(t.TempDir())
	require.NoError(t, err)
	var all sync.WaitGroup
	for i := range 40 {
		all.Go(func() {
			key := fmt.Sprint("file ", i)
			if err := r.put(key, entry{Origin: "a", Output: "b"}); err != nil {
				t.Error(err)
			}
			data, err := os.ReadFile(r.path)
			if err != nil || !strings.Contains(string(data), fmt.Sprintf("%q", key)) {
				t.Errorf("%s is not in the file: %v", key, err)
			}
		})
	}
	all.Wait()
	again, err := readRecord(filepath.Dir(r.path))
	require.NoError(t, err)
	require.Equal(t, r.entries, again.entries)
}
