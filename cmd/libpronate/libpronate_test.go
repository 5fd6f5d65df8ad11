package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/pronate/pronate/internal/fixture/touch"
	"github.com/stretchr/testify/require"
)

// run runs a command and returns what it wrote.
func run(t testing.TB, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	require.NoError(t, err, "%s %s:\n%s", name, strings.Join(args, " "), out)
	return string(out)
}

var built struct {
	sync.Once
	folder string
}

// archive is the static library, built once for all tests. They are skipped where
// there is no C compiler, or where the system is one whose flags are others.
func archive(t testing.TB) string {
	t.Helper()
	if runtime.GOOS != "linux" {
		t.Skip("the C library is tested on Linux")
	}
	if testing.Short() {
		t.Skip("building the C library takes a while")
	}
	if _, err := exec.LookPath("gcc"); err != nil {
		t.Skip("no gcc: the C library is not tested")
	}
	touch.Files(t, "*.[chg]*", "*.map", "testdata/*", "../../internal/engine/*.go")
	built.Do(func() {
		folder, err := os.MkdirTemp("", "libpronate")
		require.NoError(t, err)
		build := exec.Command("go", "build", "-buildmode=c-archive", "-o", filepath.Join(folder, "libpronate.a"), ".")
		build.Env = append(os.Environ(), "CGO_ENABLED=1")
		out, err := build.CombinedOutput()
		require.NoError(t, err, "%s", out)
		built.folder = folder
	})
	require.NotEmpty(t, built.folder, "the library did not build")
	return filepath.Join(built.folder, "libpronate.a")
}

func TestMain(m *testing.M) {
	code := m.Run()
	if built.folder != "" {
		_ = os.RemoveAll(built.folder)
	}
	os.Exit(code)
}

var strict = []string{"-Wall", "-Wextra", "-Werror", "-pedantic", "-Wconversion", "-Wshadow", "-I."}

// program compiles a program of testdata with the library.
func program(t testing.TB, source string, flags ...string) string {
	t.Helper()
	library := archive(t)
	out := filepath.Join(t.TempDir(), "program")
	args := append(append([]string{}, strict...), flags...)
	args = append(args, filepath.Join("testdata", source), "-x", "none", library, "-lm", "-o", out)
	run(t, "gcc", args...)
	return out
}

// The header needs nothing before it, in either language.
func TestHeaderAlone(t *testing.T) {
	archive(t)
	for _, language := range [][]string{{"-x", "c", "-std=c11"}, {"-x", "c", "-std=c99"}, {"-x", "c++", "-std=c++17"}, {"-x", "c++", "-std=c++11"}} {
		args := append(append([]string{"-fsyntax-only"}, strict...), language...)
		run(t, "gcc", append(args, "-include", "pronate.h", "/dev/null")...)
	}
}

// Every function and every way to fail, in C and in C++, and under the compiler's
// own watch over memory and undefined behaviour.
func TestC(t *testing.T) {
	for name, flags := range map[string][]string{
		"C11":       {"-O2", "-x", "c", "-std=c11"},
		"C++17":     {"-O2", "-x", "c++", "-std=c++17"},
		"sanitized": {"-g", "-x", "c", "-std=c11", "-fsanitize=address,undefined", "-fno-sanitize-recover=all"},
	} {
		t.Run(name, func(t *testing.T) {
			out := run(t, program(t, "check.c", flags...))
			require.Contains(t, out, " checks, 0 failed")
			t.Log(strings.TrimSpace(out))
		})
	}
}

// A shared library built as README.md says shows what pronate.h declares, no more
// and no less.
func TestSymbols(t *testing.T) {
	archive(t)
	if _, err := exec.LookPath("nm"); err != nil {
		t.Skip("no nm: the library's symbols are not looked at")
	}
	folder, err := os.Getwd()
	require.NoError(t, err)
	library := filepath.Join(t.TempDir(), "libpronate.so")
	build := exec.Command("go", "build", "-buildmode=c-shared", "-ldflags=-extldflags=-Wl,--version-script="+folder+"/pronate.map", "-o", library, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=1")
	out, err := build.CombinedOutput()
	require.NoError(t, err, "%s", out)
	shown := map[string]bool{}
	for line := range strings.Lines(run(t, "nm", "-D", "--defined-only", library)) {
		words := strings.Fields(line)
		shown[words[len(words)-1]] = true
	}
	declared := map[string]bool{}
	header := run(t, "gcc", "-E", "-P", "pronate.h")
	for _, found := range regexp.MustCompile(`\b(pronate_\w+)\(`).FindAllStringSubmatch(header, -1) {
		declared[found[1]] = true
	}
	require.Contains(t, declared, "pronate_solve_f32")
	require.Equal(t, declared, shown)
}

// BenchmarkC is what calls cost from C; internal/engine has the same from Go.
func BenchmarkC(b *testing.B) {
	cost := program(b, "cost.c", "-O2", "-x", "c", "-std=c11")
	for b.Loop() {
		b.Log("\n" + run(b, cost))
	}
}
