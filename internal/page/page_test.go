package page

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

var made = fstest.MapFS{
	"index.html":        {Data: []byte("<!doctype html><title>page</title>")},
	"assets/main.js":    {Data: []byte("1")},
	"assets/main.css":   {Data: []byte("a{}")},
	"pronate.wasm":      {Data: []byte("\x00asm")},
	"wren.glb":          {Data: []byte("glTF")},
	"picture.odd":       {Data: []byte("<script>")},
	".gitignore":        {Data: []byte("*")},
	"assets/.hidden.js": {Data: []byte("1")},
}

// ask sends a request to the handler as a browser would to a name.
func ask(t *testing.T, method, host, address string) (*http.Response, string) {
	t.Helper()
	h, err := Handler(made)
	require.NoError(t, err)
	request := httptest.NewRequest(method, "http://"+host+address, nil)
	answer := httptest.NewRecorder()
	h.ServeHTTP(answer, request)
	body, err := io.ReadAll(answer.Result().Body)
	require.NoError(t, err)
	return answer.Result(), string(body)
}

func TestTypes(t *testing.T) {
	for address, want := range map[string]string{
		"/":                "text/html; charset=utf-8",
		"/assets/main.js":  "text/javascript; charset=utf-8",
		"/assets/main.css": "text/css; charset=utf-8",
		"/pronate.wasm":    "application/wasm",
		"/wren.glb":        "model/gltf-binary",
		"/picture.odd":     "application/octet-stream",
	} {
		answer, body := ask(t, http.MethodGet, "127.0.0.1:80", address)
		require.Equal(t, http.StatusOK, answer.StatusCode, address)
		require.Equal(t, want, answer.Header.Get("Content-Type"), address)
		require.Equal(t, string(made[served(address)].Data), body)
	}
}

// What no page has is not found: folders are not listed, hidden files not given.
func TestNotFound(t *testing.T) {
	for _, address := range []string{"/assets", "/assets/", "/none.js", "/.gitignore", "/assets/.hidden.js", "/../page.go", "//pronate.wasm", "/assets/../index.html"} {
		answer, _ := ask(t, http.MethodGet, "localhost", address)
		require.Equal(t, http.StatusNotFound, answer.StatusCode, address)
	}
}

// Every answer has the headers, refusals too.
func TestHeaders(t *testing.T) {
	for _, address := range []string{"/", "/none", "/pronate.wasm"} {
		answer, _ := ask(t, http.MethodGet, "localhost:8080", address)
		require.Equal(t, "nosniff", answer.Header.Get("X-Content-Type-Options"))
		if answer.StatusCode == http.StatusOK {
			require.Equal(t, "no-cache", answer.Header.Get("Cache-Control"))
		}
		rules := strings.Split(answer.Header.Get("Content-Security-Policy"), "; ")
		for _, rule := range []string{"default-src 'none'", "script-src 'self' 'wasm-unsafe-eval'", "worker-src 'self'", "img-src 'self' blob: data:"} {
			require.Contains(t, rules, rule)
		}
		// A character that was loaded can be sent nowhere.
		require.NotContains(t, answer.Header.Get("Content-Security-Policy"), "http")
		require.NotContains(t, answer.Header.Get("Content-Security-Policy"), "'unsafe-eval'")
		require.NotContains(t, answer.Header.Get("Content-Security-Policy"), "*")
	}
}

// Names that lead to this machine by somebody else's doing are refused.
func TestHosts(t *testing.T) {
	for _, host := range []string{"localhost", "LOCALHOST:1", "127.0.0.1", "127.0.0.1:65535"} {
		answer, _ := ask(t, http.MethodGet, host, "/")
		require.Equal(t, http.StatusOK, answer.StatusCode, host)
	}
	for _, host := range []string{"example.org", "example.org:80", "localhost.example.org", "127.0.0.1.example.org:80", "127.0.0.2", "[::1]:80", "0.0.0.0:80"} {
		answer, body := ask(t, http.MethodGet, host, "/")
		require.Equal(t, http.StatusForbidden, answer.StatusCode, host)
		require.NotContains(t, body, "<title>")
	}
}

func TestMethods(t *testing.T) {
	answer, body := ask(t, http.MethodHead, "localhost", "/")
	require.Equal(t, http.StatusOK, answer.StatusCode)
	require.Empty(t, body)
	for _, method := range []string{http.MethodPost, http.MethodPut, http.MethodDelete, http.MethodOptions} {
		answer, _ := ask(t, method, "localhost", "/")
		require.Equal(t, http.StatusMethodNotAllowed, answer.StatusCode, method)
		require.Equal(t, "GET, HEAD", answer.Header.Get("Allow"))
	}
}

func TestNotBuilt(t *testing.T) {
	for _, files := range []fstest.MapFS{{}, {".gitignore": made[".gitignore"]}, {"index.html/a": made["index.html"]}} {
		_, err := Handler(files)
		require.ErrorIs(t, err, ErrNotBuilt)
	}
}

// What is embedded is a page or nothing but the folder.
func TestEmbedded(t *testing.T) {
	h, err := Handler(FS())
	require.Equal(t, Built(), err == nil)
	require.Equal(t, Built(), h != nil)
	if !Built() {
		require.ErrorIs(t, err, ErrNotBuilt)
	}
}
