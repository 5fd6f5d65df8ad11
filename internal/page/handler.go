package page

import (
	"io/fs"
	"net"
	"net/http"
	"path"
	"strings"
)

// policy is what the page may do: run its own scripts and WebAssembly, and use what
// it makes itself, such as the textures of a character that was loaded. What is
// loaded has nowhere to go: the page may ask nobody but its own server.
var policy = strings.Join([]string{
	"default-src 'none'",
	"script-src 'self' 'wasm-unsafe-eval'",
	"worker-src 'self'",
	"connect-src 'self' blob: data:", // three reads a character's textures and buffers this way
	"img-src 'self' blob: data:",
	"style-src 'self' 'unsafe-inline'", // three and sliders set styles of elements
	"font-src 'self'",
	"base-uri 'none'",
	"form-action 'none'",
	"frame-ancestors 'none'",
}, "; ")

// types are the page's own: what the system says of extensions differs from machine
// to machine, and a browser runs no script and no WebAssembly of another type.
var types = map[string]string{
	".html": "text/html; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".mjs":  "text/javascript; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".json": "application/json",
	".map":  "application/json",
	".wasm": "application/wasm",
	".glb":  "model/gltf-binary",
	".svg":  "image/svg+xml",
	".png":  "image/png",
	".ico":  "image/x-icon",
	".txt":  "text/plain; charset=utf-8",
}

// Handler serves a page's files to this machine's own browsers. Where there is no
// page among them the error is [ErrNotBuilt].
func Handler(files fs.FS) (http.Handler, error) {
	if !isPage(files) {
		return nil, ErrNotBuilt
	}
	server := http.FileServerFS(files)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		header := w.Header()
		header.Set("X-Content-Type-Options", "nosniff")
		header.Set("Content-Security-Policy", policy)
		header.Set("Referrer-Policy", "no-referrer")
		header.Set("Cross-Origin-Resource-Policy", "same-origin")
		header.Set("Cache-Control", "no-cache") // the next pronate may serve another page here
		switch {
		case !isLocal(r.Host):
			http.Error(w, "expected a request to localhost", http.StatusForbidden)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			header.Set("Allow", "GET, HEAD")
			http.Error(w, "expected GET", http.StatusMethodNotAllowed)
		case !isFile(files, r.URL.Path):
			http.NotFound(w, r)
		default:
			kind, ok := types[path.Ext(served(r.URL.Path))]
			if !ok {
				kind = "application/octet-stream"
			}
			header.Set("Content-Type", kind)
			server.ServeHTTP(w, r)
		}
	}), nil
}

// isLocal reports whether a request was meant for this machine. A site elsewhere can
// have its own name lead to 127.0.0.1, and the browser would let it read what it gets.
func isLocal(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	return host == "127.0.0.1" || strings.EqualFold(host, "localhost")
}

// served is the file that an address stands for.
func served(address string) string {
	if address == "/" || address == "" {
		return "index.html"
	}
	return strings.TrimPrefix(address, "/")
}

// isFile leaves out folders, which would be listed, and hidden files.
func isFile(files fs.FS, address string) bool {
	name := served(address)
	if !fs.ValidPath(name) || strings.HasPrefix(path.Base(name), ".") {
		return false
	}
	at, err := fs.Stat(files, name)
	return err == nil && at.Mode().IsRegular()
}
