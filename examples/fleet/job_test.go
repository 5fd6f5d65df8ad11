package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What no one can do anything with is said before anything is run.
func TestRefused(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.Symlink(folder, filepath.Join(folder, "link")))
	limbs := filepath.Join(folder, "limbs.yaml")
	require.NoError(t, os.WriteFile(limbs, []byte("limbs: nonsense\n"), 0o644))
	in := filepath.Join(folder, "in")
	for name, c := range map[string]struct{ from, to, limbs, says string }{
		"nothing":          {"", "", "", "expected --from"},
		"the same":         {in, in, "", "expected one where no sources are"},
		"above":            {in, folder, "", "expected one where no sources are"},
		"above, by a link": {in, filepath.Join(folder, "link"), "", "expected one where no sources are"},
		"no file system":   {in, "nowhere://out", "", `"nowhere" not registered`},
		"no limb file":     {in, folder + "/out", folder + "/none.yaml", "none.yaml: "},
		"a bad limb file":  {in, folder + "/out", limbs, "limbs.yaml"},
	} {
		said := fleet(t, c.from, c.to, c.limbs)
		require.Equal(t, exitUsage, said.code, name)
		require.Contains(t, said.stderr, c.says, name)
		require.Equal(t, 1, strings.Count(said.stderr, "fleet: "), name)
	}
}
