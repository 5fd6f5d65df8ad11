// Package page is the page in the browser that a pronate brings along: what
// examples/web/build.sh made of examples/web, and how it is served.
package page

import (
	"embed"
	"errors"
	"io/fs"
)

//go:generate sh ../../examples/web/build.sh

// A fresh clone has nothing in dist but .gitignore: the repository holds sources.
//
//go:embed all:dist
var dist embed.FS

// ErrNotBuilt says how a pronate gets its page.
var ErrNotBuilt = errors.New("this pronate was built without the page; run `go generate ./internal/page` (it takes node and npm) and build again")

// FS is the page's files, with index.html on top.
func FS() fs.FS {
	files, err := fs.Sub(dist, "dist")
	if err != nil { // only a path that is none
		panic(err)
	}
	return files
}

// Built reports whether the page was there when this program was built.
func Built() bool { return isPage(FS()) }

func isPage(files fs.FS) bool {
	at, err := fs.Stat(files, "index.html")
	return err == nil && at.Mode().IsRegular()
}
