package main

import (
	"bufio"
	"bytes"
	"cmp"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// A peer is a program beside this process. It is called with the folder of the
// data, the seconds of a round and a regular expression of the rows wanted,
// and prints a JSON object a line:
//
//	{"version": "what it is, and what built or runs it"}
//	{"task": "limb", "name": "...", "precision": "float64", "ns_per_limb": 1.5,
//	 "answers": "a file in the folder", "note": "..."}
//
// Answers are little-endian numbers of the row's precision, x, y, z, w, rotation
// after rotation; a row that computes nothing has none. bench/peers/peer.hpp
// and peer.mjs do all this for C++ and JavaScript. {root} in a command is the
// folder of this module, {here} the one it runs in.
type peer struct {
	name  string     // stands in the table where the program cannot run
	needs string     // what must be installed, for people
	probe []string   // a command that succeeds where it is
	build [][]string // commands that make the program, in a copy of bench/peers
	run   []string   // the command that runs it, there
}

//go:embed peers
var sources embed.FS

// A workshop is a folder where the peers are built and run.
type workshop struct {
	folder, root string
	only         string
	built        map[string]error // by a peer's name
	versions     []string         // of the peers that ran
}

func newWorkshop(folder, only string, d *data) (*workshop, error) {
	if err := os.CopyFS(folder, sources); err != nil {
		return nil, err
	}
	w := &workshop{folder: filepath.Join(folder, "peers"), only: only, built: map[string]error{}}
	module, err := w.command([]string{"go", "env", "GOMOD"}, "")
	if err != nil {
		return nil, err
	}
	w.root = filepath.Dir(strings.TrimSpace(string(module)))
	return w, d.write(w.folder)
}

// errMissing is of a peer that something is missing for on this machine.
var errMissing = errors.New("needs")

// rows builds the peer the first time, runs it and returns its rows.
func (w *workshop) rows(p peer, exact *exactAnswers) ([]row, error) {
	err, ok := w.built[p.name]
	if !ok {
		err = w.make(p)
		w.built[p.name] = err
	}
	if err != nil {
		return nil, err
	}
	out, err := w.command(append(p.run, w.folder, strconv.FormatFloat(roundSeconds, 'g', -1, 64), w.only), w.folder)
	if err != nil {
		return nil, err
	}
	var rows []row
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		var line struct {
			row
			Version, Answers string
		}
		if err := json.Unmarshal(lines.Bytes(), &line); err != nil {
			return nil, fmt.Errorf("printed %q: %w", lines.Text(), err)
		}
		if line.Version != "" {
			if !slices.Contains(w.versions, line.Version) {
				w.versions = append(w.versions, line.Version)
			}
			continue
		}
		if line.Answers != "" {
			if err := w.judge(&line.row, line.Answers, exact); err != nil {
				return nil, fmt.Errorf("%s: %w", line.Name, err)
			}
		}
		rows = append(rows, line.row)
	}
	return rows, nil
}

// judge reads the answers of a row and notes their error.
func (w *workshop) judge(r *row, file string, exact *exactAnswers) error {
	answers, err := os.ReadFile(filepath.Join(w.folder, file))
	if err != nil {
		return err
	}
	farthest, err := exact.farthest(r.Task, r.Precision, decode(answers, r.Precision))
	r.MaxError = &farthest
	return err
}

func (w *workshop) make(p peer) error {
	if _, err := w.command(p.probe, w.folder); err != nil {
		return fmt.Errorf("%w %s", errMissing, p.needs)
	}
	for _, build := range p.build {
		if _, err := w.command(build, w.folder); err != nil {
			return err
		}
	}
	return nil
}

// command runs a command in a folder and returns what it printed. The error
// has the first line of its complaint that speaks of an error.
func (w *workshop) command(words []string, folder string) ([]byte, error) {
	var args []string
	for _, word := range words {
		args = append(args, strings.NewReplacer("{root}", w.root, "{here}", folder).Replace(word))
	}
	c := exec.Command(args[0], args[1:]...)
	c.Dir = folder
	out, err := c.Output()
	if err == nil {
		return out, nil
	}
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		complaint, _, _ := strings.Cut(string(exit.Stderr), "\n")
		for line := range strings.Lines(string(exit.Stderr)) {
			if strings.Contains(strings.ToLower(line), "error") {
				complaint = strings.TrimSpace(line)
				break
			}
		}
		return nil, fmt.Errorf("%s: %s", args[0], cmp.Or(complaint, err.Error()))
	}
	return nil, err
}
