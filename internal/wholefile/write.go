// Package wholefile writes files whole or not at all.
//
// github.com/google/renameio/v2 (2.0.2) does not take its place: it has nothing
// for Windows, where this has to build, narrows the mode of an existing file by
// the umask unless told otherwise, and follows no links.
package wholefile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Write puts data at path, by way of a temporary file in the same folder and a
// rename: a reader finds the old file or the new one, and a failure leaves the
// old one as it was. A new file gets mode 0644, less the umask; an existing one
// keeps its mode, and one behind a symbolic link is written where it lies.
//
// What exists and is no regular file, a device or a pipe, is written to as it
// is; a folder is refused. An error names path as it was given.
func Write(path string, data []byte) error {
	if err := write(path, data); err != nil {
		return explain(path, err)
	}
	return nil
}

var (
	errFolder = errors.New("is a folder, expected a file")
	errLinks  = errors.New("symbolic links without an end")
)

func write(path string, data []byte) error {
	mode, keep := fs.FileMode(0o644), false
	info, err := os.Stat(path)
	switch {
	case err != nil: // new, or a failure that will show again
	case info.IsDir():
		return errFolder
	case !info.Mode().IsRegular():
		file, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		return fill(file, data, false)
	default:
		mode, keep = info.Mode().Perm(), true
	}
	path, err = target(path)
	if err != nil {
		return err
	}
	temporary, err := create(path, mode)
	if err != nil {
		return err
	}
	if keep {
		err = restore(temporary, mode)
	}
	if err = errors.Join(err, fill(temporary, data, true)); err == nil {
		err = os.Rename(temporary.Name(), path)
	}
	if err != nil {
		os.Remove(temporary.Name())
	}
	return err
}

// restore gives a file what the umask took from its mode. Where that is nothing,
// a file system that has no modes is not asked for one.
func restore(file *os.File, mode fs.FileMode) error {
	info, err := file.Stat()
	if err != nil || info.Mode().Perm() == mode {
		return err
	}
	return file.Chmod(mode)
}

// fill writes and closes a file. A power cut after a rename must not find an
// empty file, so what is to be renamed is synced.
func fill(file *os.File, data []byte, sync bool) error {
	_, err := file.Write(data)
	if err == nil && sync {
		err = file.Sync()
	}
	return errors.Join(err, file.Close())
}

// target is the end of a chain of symbolic links, which need not exist yet.
func target(path string) (string, error) {
	const most = 40 // what Linux follows
	for range most {
		link, err := os.Readlink(path)
		if err != nil { // no link
			return path, nil
		}
		if !filepath.IsAbs(link) {
			// Join would take "..", which may lead out of a linked folder,
			// for the folder above by name.
			folder, _ := filepath.Split(path)
			link = folder + link
		}
		path = link
	}
	return "", errLinks
}

// create opens a temporary file beside path whose name no other writer has.
// os.CreateTemp finds the name; its mode 0600 would shut the owner's
// colleagues out, so the file is made again with the mode the result is to
// have, which the umask then narrows.
func create(path string, mode fs.FileMode) (*os.File, error) {
	folder, _ := filepath.Split(path)
	if folder == "" {
		folder = "."
	}
	reserved, err := os.CreateTemp(folder, ".*.part")
	if err != nil {
		return nil, err
	}
	name := reserved.Name()
	reserved.Close()
	os.Remove(name)
	return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
}

// explain words an error about the file that was asked for, which is not
// always the one that the system was busy with.
func explain(path string, err error) error {
	var (
		onPath *fs.PathError
		onLink *os.LinkError
	)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: no such folder", path)
	case errors.As(err, &onPath):
		err = onPath.Err
	case errors.As(err, &onLink):
		err = onLink.Err
	}
	return fmt.Errorf("%s: %w", path, err)
}
