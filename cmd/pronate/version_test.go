package main

import (
	"errors"
	"os"
	"path/filepath"
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/require"
)

// Code that may have changed has another name, so that a library is not taken for
// up to date.
func TestBuildNamesItsCode(t *testing.T) {
	folder := t.TempDir()
	program := func(code string) func() (string, error) {
		path := filepath.Join(folder, code)
		require.NoError(t, os.WriteFile(path, []byte(code), 0o755))
		return func() (string, error) { return path, nil }
	}
	info := func(version string, settings ...debug.BuildSetting) *debug.BuildInfo {
		return &debug.BuildInfo{Main: debug.Module{Version: version}, Settings: settings}
	}
	revision, clean, dirty := debug.BuildSetting{Key: "vcs.revision", Value: "6467b1e"}, debug.BuildSetting{Key: "vcs.modified", Value: "false"}, debug.BuildSetting{Key: "vcs.modified", Value: "true"}
	for name, c := range map[string]struct {
		info *debug.BuildInfo
		want string // empty for the executable's hash
	}{
		"go run":              {info("(devel)"), ""},
		"no information":      {nil, ""},
		"installed":           {info("v1.2.3"), "v1.2.3"},
		"a checkout":          {info("(devel)", revision, clean), "revision 6467b1e"},
		"a stamped checkout":  {info("v0.0.0-20260101000000-6467b1e", revision, clean), "revision 6467b1e"},
		"a changed checkout":  {info("v0.0.0-20260101000000-6467b1e+dirty", revision, dirty), ""},
		"changed, not told":   {info("(devel)", revision), ""},
		"dirty, no revision":  {info("v1.2.3+dirty"), ""},
		"changed, one commit": {info("(devel)", revision, dirty), ""},
	} {
		one, other := buildOf(c.info, program("one")), buildOf(c.info, program("other"))
		if c.want != "" {
			require.Equal(t, c.want, one, name)
			require.Equal(t, c.want, other, name)
			continue
		}
		require.Regexp(t, "^executable [0-9a-f]{64}$", one, name)
		require.Equal(t, one, buildOf(c.info, program("one")), name)
		require.NotEqual(t, one, other, name)
	}
	none := func() (string, error) { return "", errors.New("none") }
	require.NotEqual(t, buildOf(nil, none), buildOf(nil, none))
	require.Equal(t, build(), build())
}
