package main

import (
	"bufio"
	"context"
	"io"
	"net"
	"net/http"
	"os"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"

	"github.com/pronate/pronate/internal/page"
	"github.com/stretchr/testify/require"
)

var testPage = fstest.MapFS{"index.html": {Data: []byte("<title>a page</title>")}, "pronate.wasm": {Data: []byte("\x00asm")}}

// served is a page being served: where, what else was printed in the end, and how it
// ended.
type served struct {
	address string
	rest    func() string
	ended   chan error
}

func serve(t *testing.T, ctx context.Context) served {
	t.Helper()
	reader, writer := io.Pipe()
	s := served{ended: make(chan error, 1)}
	go func() {
		s.ended <- servePage(ctx, writer, testPage, 0)
		_ = writer.Close()
	}()
	lines := bufio.NewReader(reader)
	line, err := lines.ReadString('\n')
	require.NoError(t, err)
	parts := regexp.MustCompile(`^open (http://127\.0\.0\.1:\d+/) in a browser; Ctrl-C ends it\n$`).FindStringSubmatch(line)
	require.NotNil(t, parts, line)
	s.address = parts[1]
	s.rest = func() string {
		rest, err := io.ReadAll(lines)
		require.NoError(t, err)
		return string(rest)
	}
	return s
}

// get asks for an address under a host's name.
func get(t *testing.T, address, host string) (status int, body, kind string) {
	t.Helper()
	request, err := http.NewRequest(http.MethodGet, address, nil)
	require.NoError(t, err)
	if host != "" {
		request.Host = host
	}
	answer, err := http.DefaultClient.Do(request)
	require.NoError(t, err)
	defer func() { require.NoError(t, answer.Body.Close()) }()
	text, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	return answer.StatusCode, string(text), answer.Header.Get("Content-Type")
}

func TestPageIsServedToThisMachine(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	s := serve(t, ctx)
	status, body, kind := get(t, s.address, "")
	require.Equal(t, http.StatusOK, status)
	require.Equal(t, "<title>a page</title>", body)
	require.Equal(t, "text/html; charset=utf-8", kind)
	_, _, kind = get(t, s.address+"pronate.wasm", "localhost:80")
	require.Equal(t, "application/wasm", kind)
	status, body, _ = get(t, s.address, "example.org")
	require.Equal(t, http.StatusForbidden, status)
	require.NotContains(t, body, "a page")

	stop()
	require.NoError(t, <-s.ended)
	require.Empty(t, s.rest())
	_, err := http.Get(s.address)
	require.Error(t, err) // nobody is there any more
}

func TestPageEndsOnSignals(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows has no signals to send to a process")
	}
	self, err := os.FindProcess(os.Getpid())
	require.NoError(t, err)
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		s := serve(t, t.Context())
		require.NoError(t, self.Signal(signal))
		require.NoError(t, <-s.ended, signal)
	}
}

func TestPagePortTaken(t *testing.T) {
	taken, err := net.Listen("tcp4", "127.0.0.1:0")
	require.NoError(t, err)
	defer func() { require.NoError(t, taken.Close()) }()
	port := taken.Addr().(*net.TCPAddr).Port
	var out strings.Builder
	err = servePage(t.Context(), &out, testPage, port)
	require.ErrorContains(t, err, "--port "+strconv.Itoa(port)+": bind: ")
	require.ErrorContains(t, err, ", expected a port that is free, or 0 for any")
	require.Empty(t, out.String())
}

func TestPageNotBuilt(t *testing.T) {
	var out strings.Builder
	err := servePage(t.Context(), &out, fstest.MapFS{}, 0)
	require.ErrorIs(t, err, page.ErrNotBuilt)
	require.Empty(t, out.String())
	if page.Built() {
		return // the program itself would serve it now
	}
	got := pronate(t, "", "demo", "--page")
	require.Equal(t, exitFailed, got.code)
	require.Equal(t, "pronate: this pronate was built without the page; run `go generate ./internal/page` (it takes node and npm) and build again\n", got.err)
	require.Empty(t, got.out)
}

func TestPageUsage(t *testing.T) {
	for want, args := range map[string][]string{
		"--page writes no files, expected no -o with it":      {"--page", "-o", "somewhere"},
		"--page prints no report, expected no --json":         {"--page", "--json"},
		"--port is for --page, expected both or neither":      {"--port", "8080"},
		"--port 70000: expected 0 to 65535":                   {"--page", "--port", "70000"},
		"\"--port\" flag: expected a whole number, such as 4": {"--page", "--port", "any"},
	} {
		got := pronate(t, "", append([]string{"demo"}, args...)...)
		require.Equal(t, exitUsage, got.code, args)
		require.Contains(t, got.err, want)
		require.Equal(t, 1, strings.Count(got.err, "\n"), got.err)
		require.Empty(t, got.out)
	}
}
