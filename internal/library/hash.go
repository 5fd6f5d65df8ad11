package library

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// sum is a SHA-256 as text.
func sum(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:])
}

// fileSum hashes a file piece by piece; it is not held.
func fileSum(path string) (string, error) {
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return "", err
	}
	if !info.Mode().IsRegular() {
		return "", errors.New("is no regular file")
	}
	return readerSum(file)
}

func readerSum(r io.Reader) (string, error) {
	h := sha256.New()
	if _, err := io.Copy(h, r); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// unread stands for the hash of a file that could not be read: a missing image
// keeps its address, and is taken in once it is there.
const unread = "unread"

// witness is the folder of a source. It never leaves it, by links either, and
// remembers the hash of what was read there.
type witness struct {
	dir  string
	lock sync.Mutex
	sums map[string]string
}

func newWitness(source string) *witness {
	return &witness{dir: filepath.Dir(source), sums: map[string]string{}}
}

// Open is for chain/asset to read by.
func (w *witness) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	file, err := os.OpenInRoot(w.dir, filepath.FromSlash(name))
	if err != nil {
		w.note(name, unread)
		return nil, err
	}
	return &witnessed{File: file, hash: sha256.New(), name: name, by: w}, nil
}

func (w *witness) note(name, sum string) {
	w.lock.Lock()
	defer w.lock.Unlock()
	w.sums[name] = sum
}

// witnessed hashes a file as it is read, so that the hash is of the very bytes
// that the split had, whatever becomes of the file.
type witnessed struct {
	fs.File
	hash hash.Hash
	name string
	by   *witness
}

func (f *witnessed) Read(data []byte) (int, error) {
	n, err := f.File.Read(data)
	f.hash.Write(data[:n])
	return n, err
}

func (f *witnessed) Close() error {
	result := unread
	if info, err := f.File.Stat(); err == nil && info.Mode().IsRegular() {
		if _, err := io.Copy(f.hash, f.File); err == nil { // what the reader left
			result = hex.EncodeToString(f.hash.Sum(nil))
		}
	}
	f.by.note(f.name, result)
	return f.File.Close()
}

// look hashes files in a source's folder as they are now.
func (w *witness) look(names []string) {
	for _, name := range names {
		file, err := w.Open(name)
		if err == nil {
			file.Close() // which reads it
		}
	}
}

// names are those of the files that were read, sorted.
func (w *witness) names() []string {
	var names []string
	for name := range w.sums {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// origin is the one hash of all that an output's bytes come from.
func (w *witness) origin(shape, source string) string {
	var text strings.Builder
	fmt.Fprintf(&text, "%s\n%s\n", shape, source)
	for _, name := range w.names() {
		fmt.Fprintf(&text, "%s %q\n", w.sums[name], name)
	}
	return sum([]byte(text.String()))
}
