// Package wholefile writes files whole or not at all.
package wholefile

import (
	"os"
	"path/filepath"
)

// Write puts data at path, by way of a temporary file in the same folder and a
// rename: a reader finds the old file or the new one, and a failure leaves the
// old one as it was. A new file gets mode 0644, less the umask; an existing one
// keeps its mode.
func Write(path string, data []byte) (err error) {
	mode := os.FileMode(0o644)
	if info, statErr := os.Stat(path); statErr == nil {
		mode = info.Mode().Perm()
	}
	temporary, err := create(path, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(temporary.Name())
		}
	}()
	if _, err = temporary.Write(data); err != nil {
		temporary.Close()
		return err
	}
	// A power cut after the rename must not find an empty file.
	if err = temporary.Sync(); err != nil {
		temporary.Close()
		return err
	}
	if err = temporary.Close(); err != nil {
		return err
	}
	return os.Rename(temporary.Name(), path)
}

// create opens a temporary file beside path whose name no other writer has.
// os.CreateTemp finds the name; its mode 0600 would shut the owner's
// colleagues out, so the file is made again with the mode the result is to
// have, which the umask then narrows.
func create(path string, mode os.FileMode) (*os.File, error) {
	reserved, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.part")
	if err != nil {
		return nil, err
	}
	name := reserved.Name()
	reserved.Close()
	os.Remove(name)
	return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
}
