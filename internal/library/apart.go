package library

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// oneOutputEach refuses two sources for one output, and an output where another
// one's folder has to be.
func oneOutputEach(jobs []Job) error {
	folders := places{}
	taken := map[string]Job{}
	for _, job := range jobs {
		place := folders.of(job.Output)
		if other, ok := taken[place]; ok {
			return fmt.Errorf("%s and %s would both be written to %s, expected one source for each output", other.Source, job.Source, job.Output)
		}
		taken[place] = job
	}
	for _, job := range jobs {
		place := folders.of(job.Output)
		for above := filepath.Dir(place); above != place; place, above = above, filepath.Dir(above) {
			if other, ok := taken[above]; ok {
				return fmt.Errorf("%s would be written to %s, which is a folder for %s, expected other names", other.Source, other.Output, job.Source)
			}
		}
	}
	return nil
}

// places tell where files will really lie, for links among the folders that are
// there already; it remembers them by folder.
type places map[string]string

func (p places) of(path string) string {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return folded(absolute(real))
	}
	return folded(filepath.Join(p.folder(filepath.Dir(path)), filepath.Base(path)))
}

func (p places) folder(path string) string {
	if real, ok := p[path]; ok {
		return real
	}
	real, err := filepath.EvalSymlinks(path)
	above := filepath.Dir(path)
	switch {
	case err == nil:
		real = absolute(real)
	case above == path:
		real = absolute(path)
	default:
		real = filepath.Join(p.folder(above), filepath.Base(path))
	}
	p[path] = real
	return real
}

func absolute(path string) string {
	if long, err := filepath.Abs(path); err == nil {
		return long
	}
	return path
}

// folded is a path with one letter case where file systems usually have one.
func folded(path string) string {
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		return strings.ToLower(path)
	}
	return path
}

// alike is what one file has in common with itself under any name: few have to
// be compared with os.SameFile, which knows for sure.
type alike struct {
	size     int64
	modified time.Time
}

// sparesSources refuses outputs, the record among them, that are files which are
// read, by whatever name.
func sparesSources(jobs []Job, record string, others []string) error {
	type read struct {
		path string
		info os.FileInfo
	}
	sources := map[alike][]read{}
	note := func(path string) {
		if info, err := os.Stat(path); err == nil {
			key := alike{info.Size(), info.ModTime()}
			sources[key] = append(sources[key], read{path, info})
		}
	}
	for _, job := range jobs {
		note(job.Source)
	}
	for _, path := range others {
		note(path)
	}
	check := func(output, what string) error {
		info, err := os.Stat(output)
		if err != nil {
			return nil
		}
		for _, source := range sources[alike{info.Size(), info.ModTime()}] {
			if os.SameFile(source.info, info) {
				return fmt.Errorf("%s, which is read, would be written over by %s, expected another folder for the outputs", source.path, what)
			}
		}
		return nil
	}
	for _, job := range jobs {
		if err := check(job.Output, "the output of "+job.Source); err != nil {
			return err
		}
	}
	return check(record, "the record "+record)
}
