package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/pronate/pronate/internal/library"
	"github.com/stretchr/testify/require"
)

// arguments has the test's own program be pronate: a process that can be killed.
const arguments = "PRONATE_TEST_LIBRARY"

func TestLibraryProcess(t *testing.T) {
	in, out := os.Getenv(arguments+"_IN"), os.Getenv(arguments+"_OUT")
	if in == "" {
		t.Skip("only as another test's process")
	}
	os.Exit(run([]string{"split", in, "-o", out, "--limbs", os.Getenv(arguments + "_LIMBS")}, os.Stdin, os.Stdout, os.Stderr))
}

// A run that is killed half-way, or told to end, is gone on with: in the end each
// file has the bytes of an undisturbed run, and what was done is not done again.
func TestLibraryGoesOnAfterKill(t *testing.T) {
	in, limbs := t.TempDir(), putLimbs(t)
	const count = 40
	for i := range count {
		putSmall(t, in, i)
	}
	undisturbed := filepath.Join(t.TempDir(), "undisturbed")
	require.Equal(t, exitDone, pronate(t, "", "split", in, "-o", undisturbed, "--limbs", limbs).code)
	want := tree(t, undisturbed)

	for _, signal := range []os.Signal{os.Kill, os.Interrupt} {
		out := filepath.Join(t.TempDir(), "out")
		process := exec.Command(os.Args[0], "-test.run", "^TestLibraryProcess$")
		process.Env = append(os.Environ(), arguments+"_IN="+in, arguments+"_OUT="+out, arguments+"_LIMBS="+limbs)
		var messages bytes.Buffer
		process.Stderr = &messages
		require.NoError(t, process.Start())
		for deadline := time.Now().Add(time.Minute); ; time.Sleep(time.Millisecond) {
			if entries, _ := os.ReadDir(out); len(entries) > count/4 {
				break
			}
			require.True(t, time.Now().Before(deadline), "no outputs")
		}
		require.NoError(t, process.Process.Signal(signal))
		require.Error(t, process.Wait(), "it ended before its work was done")
		if signal == os.Interrupt {
			require.Regexp(t, `^pronate: broken off with \d+ of 40 files left; the same command goes on from there\n$`, messages.String())
		}
		done := 0
		for name, data := range tree(t, out) {
			if filepath.Ext(name) == ".glb" {
				require.Equal(t, want[name], data, name)
				done++
			}
		}
		require.Less(t, done, count)
		// What a kill in the midst of writing leaves, for it rarely falls there.
		put(t, filepath.Join(out, ".1234567890.part"), []byte("half"))

		told := statuses(t, in, "-o", out, "--limbs", limbs)
		require.Equal(t, want, tree(t, out))
		again := 0
		for _, status := range told {
			if status == string(library.Split) {
				again++
			}
		}
		require.LessOrEqual(t, again, count-done+library.DefaultWorkers(), "at most the files under way are lost")
		require.GreaterOrEqual(t, again, count-done)
	}
}
