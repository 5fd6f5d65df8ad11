package library

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

	"github.com/pronate/pronate/internal/wholefile"
)

// RecordName is the record's name in the folder of outputs.
const RecordName = "pronate-library.json"

// recordVersion is that of the record's format, and of what goes into its hashes.
const recordVersion = 1

// record says what the outputs in a folder were made from.
type record struct {
	path string

	lock    sync.Mutex
	entries map[string]entry
	changes int // so far

	writing sync.Mutex
	written int    // changes that the file has
	file    []byte // as it lies on disk
}

// entry is one output's; its name is the output's path from the folder.
type entry struct {
	Origin   string   `json:"made_from"`           // hash of all that the bytes come from
	Output   string   `json:"output"`              // hash of the bytes
	RefersTo []string `json:"refers_to,omitempty"` // what the source refers to and was read, by path from its folder
}

// recordFile is the record as JSON. Keys of a map come out sorted.
type recordFile struct {
	Version int              `json:"version"`
	Files   map[string]entry `json:"files"`
}

// readRecord reads what a folder has. One that is damaged, or of another version,
// says nothing, and all is made anew.
func readRecord(dir string) (*record, error) {
	r := &record{path: filepath.Join(dir, RecordName), entries: map[string]entry{}}
	data, err := os.ReadFile(r.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return r, nil
	case err != nil:
		return nil, err
	}
	r.file = data
	var parsed recordFile
	if json.Unmarshal(data, &parsed) == nil && parsed.Version == recordVersion && parsed.Files != nil {
		r.entries = parsed.Files
	}
	return r, nil
}

func (r *record) get(key string) (entry, bool) {
	r.lock.Lock()
	defer r.lock.Unlock()
	e, ok := r.entries[key]
	return e, ok
}

// put notes an output and comes back when the file has it. Workers that wait for
// one another's writing are served by the next one together.
func (r *record) put(key string, e entry) error {
	r.lock.Lock()
	r.entries[key] = e
	r.changes++
	mine := r.changes
	r.lock.Unlock()

	r.writing.Lock()
	defer r.writing.Unlock()
	if r.written >= mine {
		return nil
	}
	return r.write()
}

// write brings the file up to date; a file that is stays untouched.
func (r *record) write() error {
	r.lock.Lock()
	changes := r.changes
	data, err := json.MarshalIndent(recordFile{recordVersion, r.entries}, "", " ")
	r.lock.Unlock()
	if err != nil {
		return err
	}
	data = append(data, '\n')
	if !bytes.Equal(data, r.file) {
		if err := wholefile.Write(r.path, data); err != nil {
			return err
		}
	}
	r.file, r.written = data, changes
	return nil
}

// forget drops outputs that are no longer there, before a run begins.
func (r *record) forget(dir string) {
	for key := range r.entries {
		if _, err := os.Stat(filepath.Join(dir, filepath.FromSlash(key))); errors.Is(err, fs.ErrNotExist) {
			delete(r.entries, key)
		}
	}
}
