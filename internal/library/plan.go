package library

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Job is one character to split.
type Job struct {
	Source string // path, as given or found
	Output string // path below the folder of outputs
	Size   int64  // of the source in bytes; 0 where it cannot be told

	key string // the output's path from the folder, with slashes: its name in the record
}

// Plan finds the characters that paths, of files and folders, stand for, and
// where in dir each goes: a file by its name, one from a folder by its path from
// there. Folders that cannot be searched come back as failures. It is an error
// if two would have one output, or if one would write over a source or over what
// else is read, which others names.
func Plan(paths []string, dir string, others ...string) ([]Job, []Result, error) {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return nil, nil, fmt.Errorf("%s: is a file, expected a folder", dir)
	}
	var jobs []Job
	var failed []Result
	seen := map[[2]string]bool{}
	add := func(source, key string) {
		if pair := [2]string{filepath.Clean(source), key}; !seen[pair] {
			seen[pair] = true
			jobs = append(jobs, Job{Source: source, Output: filepath.Join(dir, filepath.FromSlash(key)), key: key})
		}
	}
	for _, path := range paths {
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			s := search{out: dir}
			s.folder(path, "")
			failed = append(failed, s.failed...)
			if len(s.found) == 0 && len(s.failed) == 0 {
				failed = append(failed, failure(path, "", fmt.Errorf("%s: no .glb or .gltf in this folder or below", path)))
			}
			for _, key := range s.found {
				add(filepath.Join(path, filepath.FromSlash(key)), key)
			}
			continue
		}
		if !isCharacter(path) {
			return nil, nil, fmt.Errorf("%s: expected a .glb, a .gltf or a folder", path)
		}
		add(path, filepath.Base(path)) // one that is not there fails when its turn comes
	}
	slices.SortFunc(jobs, func(a, b Job) int { return strings.Compare(a.key, b.key) })
	for i := range jobs {
		if info, err := os.Stat(jobs[i].Source); err == nil {
			jobs[i].Size = info.Size()
		}
	}
	if err := oneOutputEach(jobs); err != nil {
		return nil, nil, err
	}
	return jobs, failed, sparesSources(jobs, filepath.Join(dir, RecordName), others)
}

func isCharacter(name string) bool {
	extension := strings.ToLower(filepath.Ext(name))
	return extension == ".glb" || extension == ".gltf"
}

// search goes through a folder and those below it. Links to folders are not
// followed: they may lead round.
type search struct {
	out    string // a folder of outputs below is no source
	found  []string
	failed []Result
}

func (s *search) folder(path, key string) {
	entries, err := os.ReadDir(path)
	if err != nil {
		s.failed = append(s.failed, failure(path, "", err))
		return
	}
	for _, entry := range entries {
		below, name := filepath.Join(path, entry.Name()), entry.Name()
		if key != "" {
			name = key + "/" + name
		}
		switch {
		case entry.IsDir():
			if !sameFile(below, s.out) {
				s.folder(below, name)
			}
		case isCharacter(name):
			// A link to nothing is a character that will fail; devices, pipes and
			// links to folders are none.
			if info, err := os.Stat(below); err != nil || info.Mode().IsRegular() {
				s.found = append(s.found, name)
			}
		}
	}
}

func sameFile(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}
