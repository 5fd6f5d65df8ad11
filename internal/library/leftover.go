package library

import (
	"os"
	"path/filepath"
	"regexp"
)

// leftover is how internal/wholefile names what it writes before a rename.
var leftover = regexp.MustCompile(`^\.[0-9]+\.part$`)

// tidy removes from the folders of the outputs what a run that was killed in the
// midst of writing has left behind.
func tidy(dir string, jobs []Job) {
	folders := map[string]bool{dir: true}
	for _, job := range jobs {
		folders[filepath.Dir(job.Output)] = true
	}
	for folder := range folders {
		entries, err := os.ReadDir(folder)
		if err != nil {
			continue // not there yet, or writing will say why
		}
		for _, e := range entries {
			if e.Type().IsRegular() && leftover.MatchString(e.Name()) {
				os.Remove(filepath.Join(folder, e.Name()))
			}
		}
	}
}
