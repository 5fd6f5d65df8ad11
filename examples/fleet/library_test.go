package main

import (
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem/memfs"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/options/jobopts"
	"github.com/stretchr/testify/require"
)

// library is a folder of 13 sound characters, one of them with its buffer beside
// it, and three that must fail.
func library(t *testing.T) string {
	t.Helper()
	_, wren := commandLine(t)
	in := t.TempDir()
	for i, name := range []string{"a.glb", "b.glb", "c.glb", "d.glb", "e.GLB", "f g.glb", "set [1]/a.glb", "set [1]/b.glb",
		"set [1]/deeper/a.glb", "walk/a.glb", "walk/b.glb", "walk/c.glb"} {
		put(t, in, name, variant(t, wren, i))
	}
	gltf, bin := apartFrom(t, variant(t, wren, 20), "apart.bin")
	put(t, in, "walk/apart.gltf", gltf)
	put(t, in, "walk/apart.bin", bin)
	put(t, in, "walk/cut.glb", wren[:len(wren)/2])
	put(t, in, "no character.glb", []byte("no character"))
	gltf, _ = apartFrom(t, wren, "missing.bin")
	put(t, in, "alone.gltf", gltf)
	return in
}

const (
	librarySound  = 13
	libraryFailed = 3
)

// On Prism the outputs and the failures are the command line's, byte for byte and
// line for line, and nothing else lies about.
func TestAsCommandLine(t *testing.T) {
	program, _ := commandLine(t)
	in := library(t)
	expected := filepath.Join(t.TempDir(), "out")
	command := exec.Command(program, "split", in, "-o", expected)
	var stderr strings.Builder
	command.Stderr = &stderr
	require.Error(t, command.Run())
	require.Equal(t, exitFailed, command.ProcessState.ExitCode())

	out := filepath.Join(t.TempDir(), "out")
	first := fleet(t, in, out, "")
	require.Equal(t, exitFailed, first.code)
	require.Equal(t, "13 split, 0 up to date, 3 failed; written to "+out+"\n", first.stdout)
	require.Len(t, outputs(t, out), librarySound)
	require.Equal(t, outputs(t, expected), outputs(t, out))
	// Only the system's wording of a missing file differs.
	alike := strings.NewReplacer("pronate: ", "fleet: ", "openat missing.bin", "open "+in+"/missing.bin")
	require.Equal(t, sortedLines(alike.Replace(stderr.String())), sortedLines(first.stderr))
	all := contents(t, out)
	require.Len(t, all, 2*librarySound+1, "an output and a record each, and the report")
	report := strings.Split(strings.TrimSuffix(all["fleet-report.tsv"], "\n"), "\n")
	require.Len(t, report, librarySound+libraryFailed)
	require.True(t, slices.IsSorted(report))

	// A second run has nothing to do but what failed, and touches nothing else.
	second := fleet(t, in, out, "")
	require.Equal(t, "0 split, 13 up to date, 3 failed; written to "+out+"\n", second.stdout)
	require.Equal(t, first.stderr, second.stderr)
	require.Equal(t, outputs(t, expected), outputs(t, out))
}

func sortedLines(text string) []string {
	lines := slices.Sorted(strings.Lines(text))
	return slices.DeleteFunc(lines, func(line string) bool { return strings.HasPrefix(line, "fleet: warning: ") })
}

// Workers in processes of their own, which know nothing but what the pipeline
// carries, give the same.
func TestWorkersApart(t *testing.T) {
	program, _ := commandLine(t)
	in := library(t)
	limbs := filepath.Join(shared, "wren-limbs.yaml")
	expected := filepath.Join(t.TempDir(), "out")
	require.Error(t, exec.Command(program, "split", in, "--limbs", limbs, "-o", expected).Run())
	here := filepath.Join(t.TempDir(), "out")
	told := fleet(t, in, here, limbs)
	require.Contains(t, told.stdout, "13 split, ")
	require.Equal(t, outputs(t, expected), outputs(t, here))

	useWorkerProcesses(t)
	apart := filepath.Join(t.TempDir(), "out")
	again := fleet(t, in, apart, limbs)
	require.Equal(t, told.stderr, again.stderr)
	require.Equal(t, contents(t, here), contents(t, apart))
}

// A place with a scheme is read and written like a folder, by the file system that
// registered for it.
func TestOtherFileSystem(t *testing.T) {
	_, wren := commandLine(t)
	gltf, bin := apartFrom(t, wren, "wren.bin")
	memfs.Write("memfs://clips/deep/wren.gltf", gltf)
	memfs.Write("memfs://clips/deep/wren.bin", bin)
	memfs.Write("memfs://clips/wren.glb", wren)
	require.Equal(t, told{stdout: "2 split, 0 up to date, 0 failed; written to memfs://out\n"}, fleet(t, "memfs://clips/", "memfs://out", ""))
	require.Equal(t, told{stdout: "0 split, 2 up to date, 0 failed; written to memfs://out\n"}, fleet(t, "memfs://clips/", "memfs://out", ""))
	in, out := t.TempDir(), t.TempDir()
	put(t, in, "wren.glb", wren)
	fleet(t, in, out+"/x", "")
	files := memfs.New(t.Context())
	written, err := filesystem.Read(t.Context(), files, "memfs://out/wren.glb")
	require.NoError(t, err)
	require.Equal(t, contents(t, out)["x/wren.glb"], sum(written))
	all, err := files.List(t.Context(), "memfs://out/*.part")
	require.NoError(t, err)
	require.Empty(t, all)
}

// Counters are the runner's, beside the report.
func TestCounters(t *testing.T) {
	in := library(t)
	job, err := newJob(t.Context(), in, filepath.Join(t.TempDir(), "out"), "")
	require.NoError(t, err)
	pipeline, scope := beam.NewPipelineWithRoot()
	job.build(scope)
	result, err := beam.Run(t.Context(), "prism", pipeline)
	require.NoError(t, err)
	counts := map[string]int64{}
	for _, counter := range result.Metrics().AllMetrics().Counters() {
		counts[counter.Name()] += counter.Result()
	}
	require.EqualValues(t, librarySound, counts["split"])
	require.EqualValues(t, libraryFailed, counts["failed"])
	require.Empty(t, *jobopts.EnvironmentConfig, "no container is asked for")
}
