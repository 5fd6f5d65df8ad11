package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
)

// beside is the folder of a source as chain/asset reads buffers and images from
// it, by way of Beam's file system. It remembers the hash of what was read.
type beside struct {
	ctx    context.Context
	files  filesystem.Interface
	folder string
	sums   map[string]string
}

// unread stands for the hash of a file that could not be read: a missing image
// keeps its address, and is taken in once it is there.
const unread = "unread"

func newBeside(ctx context.Context, files filesystem.Interface, source string) *beside {
	return &beside{ctx: ctx, files: files, folder: folderOf(source), sums: map[string]string{}}
}

// Open reads the file whole; its size is then known, which not every store tells.
func (b *beside) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	data, err := filesystem.Read(b.ctx, b.files, under(b.folder, name))
	if err != nil {
		b.sums[name] = unread
		return nil, err
	}
	b.sums[name] = sum(data)
	return &memory{Reader: bytes.NewReader(data), name: name}, nil
}

// names are those of the files that were asked for, sorted.
func (b *beside) names() []string { return slices.Sorted(maps.Keys(b.sums)) }

// origin is the one hash of all that an output's bytes come from.
func (b *beside) origin(shape string, source []byte) string {
	var text strings.Builder
	fmt.Fprintf(&text, "%s\n%s\n", shape, sum(source))
	for _, name := range b.names() {
		fmt.Fprintf(&text, "%s %q\n", b.sums[name], name)
	}
	return sum([]byte(text.String()))
}

// memory is a file that has been read.
type memory struct {
	*bytes.Reader
	name string
}

func (m *memory) Close() error               { return nil }
func (m *memory) Stat() (fs.FileInfo, error) { return m, nil }
func (m *memory) Name() string               { return nameOf(m.name) }
func (m *memory) Mode() fs.FileMode          { return 0o444 }
func (m *memory) ModTime() time.Time         { return time.Time{} }
func (m *memory) IsDir() bool                { return false }
func (m *memory) Sys() any                   { return nil }
