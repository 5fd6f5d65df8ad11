package main

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestMain lets this binary be a peer's program.
func TestMain(m *testing.M) {
	if reply := os.Getenv("BENCH_TEST_PEER"); reply != "" {
		os.Stdout.WriteString(reply)
		return
	}
	os.Exit(m.Run())
}

func TestPeers(t *testing.T) {
	d := newData(3)
	exact := newExactAnswers(d)
	shop, err := newWorkshop(t.TempDir(), "", d)
	require.NoError(t, err)
	require.FileExists(t, filepath.Join(shop.root, "go.mod"))
	require.FileExists(t, filepath.Join(shop.folder, "peer.hpp"))

	self, err := os.Executable()
	require.NoError(t, err)
	program := peer{name: "itself", probe: []string{"go", "version"}, run: []string{self}}
	t.Setenv("BENCH_TEST_PEER", `{"version": "first"}
{"task": "aim", "name": "unturned", "precision": "float32", "ns_per_limb": 2, "answers": "poses.float32", "note": "well"}
`)
	rows, err := shop.rows(program, exact)
	require.NoError(t, err)
	require.Len(t, rows, 1)
	off, err := exact.farthest(aim, float32s, d.rounded(float32s).flatPoses())
	require.NoError(t, err)
	require.Equal(t, row{Task: aim, Name: "unturned", Precision: float32s, NsPerLimb: 2, Note: "well", MaxError: &off}, rows[0])
	require.Equal(t, []string{"first"}, shop.versions)

	for reply, complaint := range map[string]string{
		"good morning": `printed "good morning"`,
		`{"task": "limb", "name": "few", "precision": "float64", "answers": "poses.float64"}`: "few: 12 numbers, expected 48",
	} {
		t.Setenv("BENCH_TEST_PEER", reply)
		_, err := shop.rows(program, exact)
		require.ErrorContains(t, err, complaint)
	}
}

func TestAbsentPeer(t *testing.T) {
	shop, err := newWorkshop(t.TempDir(), "", newData(3))
	require.NoError(t, err)
	_, err = shop.rows(peer{name: "absent", needs: "a tool that nobody has", probe: []string{"./no-such-tool"}}, nil)
	require.ErrorIs(t, err, errMissing)
	require.EqualError(t, err, "needs a tool that nobody has")

	_, err = shop.rows(peer{name: "broken", probe: []string{"go", "version"}, build: [][]string{{"go", "no-such-command"}}}, nil)
	require.Error(t, err)
	require.False(t, errors.Is(err, errMissing))
}
