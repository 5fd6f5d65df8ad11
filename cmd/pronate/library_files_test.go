package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/pronate/pronate/internal/fixture"
	"github.com/stretchr/testify/require"
)

// small is a character that is quick to split, unlike others of another number.
func small(t *testing.T, number int, o fixture.Options) fixture.Character {
	t.Helper()
	o.RingsPerBone, o.Sides, o.KeysPerSecond = 2, 3, 1
	o.Clips = []string{fmt.Sprintf("wild %d", number+1)}
	o.Stem = fmt.Sprintf("clip-%03d", number)
	character, err := fixture.Build(o)
	require.NoError(t, err)
	return character
}

func put(t *testing.T, path string, data []byte) {
	t.Helper()
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, data, 0o644))
}

// putSmall puts a character into a folder and returns where.
func putSmall(t *testing.T, folder string, number int) string {
	t.Helper()
	c := small(t, number, fixture.Options{})
	path := filepath.Join(folder, c.Name)
	put(t, path, c.Data)
	return path
}

// putLimbs puts a limb file that is quick to split by and returns where.
func putLimbs(t *testing.T) string {
	t.Helper()
	joints := small(t, 0, fixture.Options{}).Joints
	path := filepath.Join(t.TempDir(), "limbs.yaml")
	put(t, path, fmt.Appendf(nil, "version: 1\nlimbs:\n  - {joint: %q, end: %q, range: none}\n", joints["thigh_l"], joints["shin_l"]))
	return path
}

// tree holds every file below a folder, by its path from there.
func tree(t *testing.T, folder string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, filepath.Walk(folder, func(path string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() || isFolder(path) { // by a link
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(folder, path)
		files[filepath.ToSlash(name)] = string(data)
		return err
	}))
	return files
}

// stamps are when each file was written, and which file it is: a rename over one
// makes another.
func stamps(t *testing.T, folder string) map[string]os.FileInfo {
	t.Helper()
	found := map[string]os.FileInfo{}
	for name := range tree(t, folder) {
		info, err := os.Stat(filepath.Join(folder, name))
		require.NoError(t, err)
		found[name] = info
	}
	return found
}

// rewritten are the files that were written since.
func rewritten(t *testing.T, folder string, since map[string]os.FileInfo) []string {
	t.Helper()
	names := []string{}
	for name, info := range stamps(t, folder) {
		if old := since[name]; old == nil || !os.SameFile(old, info) || !old.ModTime().Equal(info.ModTime()) {
			names = append(names, name)
		}
	}
	return names
}

// statuses runs split with --json and says what came of each file, by its output's
// name.
func statuses(t *testing.T, args ...string) map[string]string {
	t.Helper()
	got := pronate(t, "", append([]string{"split", "--json"}, args...)...)
	var told struct{ Files []fileReport }
	require.NoError(t, json.Unmarshal([]byte(got.out), &told), got.err)
	found := map[string]string{}
	for _, file := range told.Files {
		found[filepath.Base(file.File)] = file.Status
	}
	return found
}
