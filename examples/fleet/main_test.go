package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/log"
	"github.com/stretchr/testify/require"
)

// workerVariable marks a process that a runner started as a worker.
const workerVariable = "FLEET_TEST_WORKER"

func TestMain(m *testing.M) {
	if os.Getenv(workerVariable) != "" {
		os.Args = workerArguments(os.Args)
	}
	flag.Parse()
	log.LogLevel = "warn"
	beam.Init() // a worker does not come back from it
	var err error
	if shared, err = os.MkdirTemp("", "fleet"); err != nil {
		panic(err)
	}
	os.Setenv("TMPDIR", shared) // Beam leaves files behind
	code := m.Run()
	os.RemoveAll(shared)
	os.Exit(code)
}

// shared is a folder for all tests.
var shared string

// pronate is the command line, built from this checkout, and Wren beside it.
var pronate = sync.OnceValues(func() (string, error) {
	program := filepath.Join(shared, "pronate")
	for _, command := range []*exec.Cmd{
		exec.Command("go", "build", "-C", filepath.Join("..", ".."), "-o", program, "./cmd/pronate"),
		exec.Command(program, "demo", "-o", shared),
	} {
		if out, err := command.CombinedOutput(); err != nil {
			return "", fmt.Errorf("%s: %w\n%s", command, err, out)
		}
	}
	return program, nil
})

func commandLine(t *testing.T) (program string, wren []byte) {
	t.Helper()
	program, err := pronate()
	require.NoError(t, err)
	wren, err = os.ReadFile(filepath.Join(shared, "wren.glb"))
	require.NoError(t, err)
	return program, wren
}

// variant is Wren with a clip by another name.
func variant(t *testing.T, wren []byte, number int) []byte {
	t.Helper()
	const clip = "forearm wring"
	require.Equal(t, 1, bytes.Count(wren, []byte(clip)))
	return bytes.Replace(wren, []byte(clip), fmt.Appendf(nil, "forearm w %03d", number), 1)
}

// apartFrom takes a .glb apart into a .gltf and the buffer it refers to.
func apartFrom(t *testing.T, glb []byte, buffer string) (gltf, bin []byte) {
	t.Helper()
	length := binary.LittleEndian.Uint32(glb[12:])
	var document map[string]any
	require.NoError(t, json.Unmarshal(glb[20:20+length], &document))
	bin = glb[20+length+8:]
	document["buffers"] = []any{map[string]any{"byteLength": len(bin), "uri": buffer}}
	gltf, err := json.Marshal(document)
	require.NoError(t, err)
	return gltf, bin
}

func put(t *testing.T, folder, name string, data []byte) {
	t.Helper()
	path := filepath.Join(folder, filepath.FromSlash(name))
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, data, 0o644))
}

// contents are the files of a folder and below, by path; of characters the hashes,
// which a failure can show.
func contents(t *testing.T, folder string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(folder, path)
		files[filepath.ToSlash(name)] = string(data)
		if isCharacter(name) && len(data) > 100 {
			files[filepath.ToSlash(name)] = sum(data)
		}
		return err
	}))
	return files
}

// outputs are contents without the pipeline's own files.
func outputs(t *testing.T, folder string) map[string]string {
	t.Helper()
	files := contents(t, folder)
	delete(files, "fleet-report.tsv")
	delete(files, "pronate-library.json") // the command line's record
	for name := range files {
		if strings.HasPrefix(name, recordFolder+"/") {
			delete(files, name)
		}
	}
	return files
}

type told struct {
	code           int
	stdout, stderr string
}

func fleet(t *testing.T, from, to, limbs string) told {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code := run(context.Background(), from, to, limbs, &stdout, &stderr)
	return told{code, stdout.String(), stderr.String()}
}
