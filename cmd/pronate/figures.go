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

// writeAll writes files into a folder, which it makes.
func writeAll(folder string, files []namedFile) (written []string, err error) {
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
