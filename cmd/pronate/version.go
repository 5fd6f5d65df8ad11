package main

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"runtime/debug"
	"strings"
)

// version is that of the module the program was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "devel"
	}
	return info.Main.Version
}

// build names the program's code: two that may give other bytes have two names.
func build() string {
	info, _ := debug.ReadBuildInfo()
	return buildOf(info, os.Executable)
}

// buildOf goes by the version or the revision where the code is what that says. A
// checkout with changes of its own, and what `go run` builds, have neither: there the
// executable itself is hashed.
func buildOf(info *debug.BuildInfo, executable func() (string, error)) string {
	if info != nil {
		settings := map[string]string{}
		for _, s := range info.Settings {
			settings[s.Key] = s.Value
		}
		revision, changed := settings["vcs.revision"], settings["vcs.modified"] != "false"
		released := info.Main.Version != "" && info.Main.Version != "(devel)" && !strings.HasSuffix(info.Main.Version, "+dirty")
		switch {
		case revision != "" && !changed:
			return "revision " + revision
		case revision == "" && released:
			return info.Main.Version
		}
	}
	path, err := executable()
	if err == nil {
		var sum string
		if sum, err = hashOf(path); err == nil {
			return "executable " + sum
		}
	}
	return "unknown " + rand.Text() // equal to none: what it made is made anew
}

func hashOf(path string) (string, error) {
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	h := sha256.New()
	if _, err := io.Copy(h, file); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
