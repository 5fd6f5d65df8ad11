package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
)

// A place is a path: with a scheme (gs://bucket/clips), or one of the local file
// system, which is kept absolute and with slashes.

func isLocal(place string) bool { return !strings.Contains(place, "://") }

// anywhere is a place as it is wherever it is looked at from.
func anywhere(place string) (string, error) {
	if !isLocal(place) {
		return strings.TrimRight(place, "/"), nil
	}
	long, err := filepath.Abs(place)
	if err != nil {
		return "", fmt.Errorf("%s: %w", place, err)
	}
	return filepath.ToSlash(long), nil
}

func under(folder, name string) string { return strings.TrimSuffix(folder, "/") + "/" + name }

// isUnder reports whether a place lies in a folder or further down.
func isUnder(place, folder string) bool {
	return strings.HasPrefix(place, strings.TrimSuffix(folder, "/")+"/")
}

// lies reports whether a place is in a folder or further down, by whatever links.
func lies(place, folder string) bool {
	if isUnder(place, folder) || !isLocal(place) || !isLocal(folder) {
		return isUnder(place, folder)
	}
	return isUnder(real(place), real(folder))
}

// folderOf and nameOf are the two sides of a place's last slash.
func folderOf(place string) string { return place[:max(0, strings.LastIndex(place, "/"))] }
func nameOf(place string) string   { return place[strings.LastIndex(place, "/")+1:] }

// apart keeps outputs from lying where sources may: they would be written over.
func apart(from, to string) error {
	if isLocal(from) && isLocal(to) {
		from, to = real(from), real(to)
	}
	if from == to || isUnder(from, to) {
		return errors.New("--to is --from or a folder above it, expected one where no sources are")
	}
	return nil
}

// real follows links as far as a path is there.
func real(path string) string {
	if followed, err := filepath.EvalSymlinks(path); err == nil {
		return filepath.ToSlash(followed)
	}
	if above := folderOf(path); above != "" {
		return under(real(above), nameOf(path))
	}
	return path
}
