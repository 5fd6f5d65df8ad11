package library

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/printable"
	"github.com/pronate/pronate/internal/wholefile"
)

// Status is what came of a file.
type Status string

// The statuses.
const (
	Split    Status = "split"
	UpToDate Status = "up to date"
	Failed   Status = "failed"
	Left     Status = "left" // the run ended before its turn
)

// Result is what came of one file.
type Result struct {
	Job
	Status Status
	Err    error         // of a failed one, one line that names the source
	Report *asset.Report // of a split one
}

func failure(source, output string, err error) Result {
	return Result{Job: Job{Source: source, Output: output}, Status: Failed, Err: named(source, err)}
}

// named has an error of a file name it, and leaves it its first line: a character
// without limbs brings help along, which is too long for a list.
func named(source string, err error) error {
	if help := (*asset.NoLimbsError)(nil); errors.As(err, &help) {
		first, _, _ := strings.Cut(err.Error(), "\n")
		return errors.New(first)
	}
	if text := err.Error(); !strings.Contains(text, source) && !strings.Contains(text, printable.Text(source)) {
		return fmt.Errorf("%s: %w", source, err)
	}
	return err
}

// one brings one output up to date. An error beside the result is the record's.
func one(job Job, options Options, shape string, record *record) (Result, error) {
	if isUpToDate(job, shape, record) {
		return Result{Job: job, Status: UpToDate}, nil
	}
	made, report, err := guarded(job, func() (entry, *asset.Report, error) { return makeOne(job, options.Split, shape) })
	if err != nil {
		result := failure(job.Source, job.Output, err)
		result.Job = job
		return result, nil
	}
	return Result{Job: job, Status: Split, Report: report}, record.put(job.key, made)
}

func isUpToDate(job Job, shape string, record *record) bool {
	entry, ok := record.get(job.key)
	if !ok {
		return false
	}
	source, err := fileSum(job.Source)
	if err != nil {
		return false // splitting it will say why
	}
	beside := newWitness(job.Source)
	beside.look(entry.RefersTo)
	if beside.origin(shape, source) != entry.Origin {
		return false
	}
	output, err := fileSum(job.Output)
	return err == nil && output == entry.Output
}

// guarded keeps a slip of the program over one file from ending the run of a
// thousand.
func guarded(job Job, work func() (entry, *asset.Report, error)) (made entry, report *asset.Report, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%s: malformed in a way no check foresaw: %v", job.Source, r)
		}
	}()
	return work()
}

// makeOne reads, splits and writes one character.
func makeOne(job Job, options asset.Options, shape string) (entry, *asset.Report, error) {
	data, err := os.ReadFile(job.Source)
	if err != nil {
		return entry{}, nil, err
	}
	beside := newWitness(job.Source)
	file, err := asset.Decode(job.Source, data, beside)
	if err != nil {
		return entry{}, nil, err
	}
	split, told, err := asset.Split(file, options)
	if err != nil {
		return entry{}, nil, err
	}
	// An output is never in its source's folder: they would be one file.
	out, err := split.Encode(strings.EqualFold(filepath.Ext(job.Output), ".glb"), false)
	if err != nil {
		return entry{}, nil, err
	}
	if err := os.MkdirAll(filepath.Dir(job.Output), 0o777); err != nil {
		return entry{}, nil, fmt.Errorf("%s: %w", job.Source, err)
	}
	if err := wholefile.Write(job.Output, out); err != nil {
		return entry{}, nil, fmt.Errorf("%s: %w", job.Source, err)
	}
	return entry{Origin: beside.origin(shape, sum(data)), Output: sum(out), RefersTo: beside.names()}, &told, nil
}
