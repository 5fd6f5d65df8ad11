package main

import (
	"os"
	"path/filepath"

	"github.com/pronate/pronate/internal/report"
	"github.com/pronate/pronate/internal/wholefile"
)

// namedFile is a file still to be written.
type namedFile struct {
	name string
	data []byte
}

// writeFigure writes plots into a folder, as SVG and PNG, and their numbers as
// CSV where there are any.
func writeFigure(folder, name string, plots report.Plots, numbers []byte) (written []string, err error) {
	svg, err := plots.SVG()
	if err != nil {
		return nil, err
	}
	png, err := plots.PNG()
	if err != nil {
		return nil, err
	}
	files := []namedFile{{name + ".svg", svg}, {name + ".png", png}}
	if numbers != nil {
		files = append(files, namedFile{name + ".csv", numbers})
	}
	return writeAll(folder, files)
}

// checkFolder refuses a folder to write into that is a file, or would be in one.
func checkFolder(folder string) error {
	for path := folder; ; path = filepath.Dir(path) {
		switch info, err := os.Stat(path); {
		case err == nil && !info.IsDir():
			return usagef("-o %s: is a file, expected a folder", path)
		case err == nil || path == filepath.Dir(path):
			return nil
		}
	}
}

// writeAll writes files into a folder, which it makes.
func writeAll(folder string, files []namedFile) (written []string, err error) {
	if err := checkFolder(folder); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, err
	}
	for _, f := range files {
		path := filepath.Join(folder, f.name)
		if err := wholefile.Write(path, f.data); err != nil {
			return written, err
		}
		written = append(written, path)
	}
	return written, nil
}
