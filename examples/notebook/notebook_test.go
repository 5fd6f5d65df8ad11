package notebook

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// Outputs in the repository would go stale, and a difference between two versions
// of a notebook with them is unreadable. Format 4.5 wants an id for every cell.
func TestNotebookIsClean(t *testing.T) {
	data, err := os.ReadFile("twist.ipynb")
	require.NoError(t, err)
	var book struct {
		Format int `json:"nbformat"`
		Minor  int `json:"nbformat_minor"`
		Cells  []struct {
			ID        string            `json:"id"`
			Type      string            `json:"cell_type"`
			Outputs   []json.RawMessage `json:"outputs"`
			Execution *int              `json:"execution_count"`
		} `json:"cells"`
	}
	require.NoError(t, json.Unmarshal(data, &book))
	require.Equal(t, []int{4, 5}, []int{book.Format, book.Minor})
	ids := map[string]bool{}
	code := 0
	for _, cell := range book.Cells {
		require.NotEmpty(t, cell.ID)
		require.False(t, ids[cell.ID], cell.ID)
		ids[cell.ID] = true
		require.Empty(t, cell.Outputs, cell.ID)
		require.Nil(t, cell.Execution, cell.ID)
		if cell.Type == "code" {
			code++
		}
	}
	require.NotZero(t, code)
}
