package main

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"strings"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/register"
	"github.com/pronate/pronate/chain/asset"
)

func init() {
	register.DoFn4x0[context.Context, string, func(string), func(string)](&splitFn{})
}

// Counters, for the runner's pages. They count attempts: a bundle that is done
// twice counts twice there, and once in the report.
var (
	splits   = beam.NewCounter("fleet", "split")
	upToDate = beam.NewCounter("fleet", "up to date")
	failures = beam.NewCounter("fleet", "failed")
)

// turns are how many files a worker has in hand: half its cores and one, as the
// command line. A split shares its limbs out over all cores; what a runner starts
// beyond that would only fill memory.
var turns = make(chan struct{}, runtime.GOMAXPROCS(0)/2+1)

// splitFn brings the output of one source up to date. Doing so again, or twice at
// a time, ends with the same bytes.
type splitFn struct {
	Job job

	options  asset.Options
	shape    string
	from, to filesystem.Interface
}

// Setup is once a worker.
func (f *splitFn) Setup() error {
	if f.Job.Limbs != nil {
		limbs, err := asset.ParseLimbs(f.Job.LimbsName, f.Job.Limbs)
		if err != nil {
			return err
		}
		f.options.Limbs, f.options.AsAsked = limbs.Limbs, limbs.Resolved
	}
	program, err := programSum()
	if err != nil {
		return err
	}
	f.shape = shape(program, f.Job.Limbs)
	ctx := context.Background() // the clients outlive the bundle that comes first
	if f.from, err = filesystem.New(ctx, f.Job.From); err != nil {
		return err
	}
	f.to, err = filesystem.New(ctx, f.Job.To)
	return err
}

// Teardown closes what Setup opened.
func (f *splitFn) Teardown() error {
	return errors.Join(f.from.Close(), f.to.Close())
}

// ProcessElement has every failure become a line, one of reading or writing too: a
// runner that meets an error gives the whole job up in the end.
func (f *splitFn) ProcessElement(ctx context.Context, source string, done, failed func(string)) {
	turns <- struct{}{}
	status, err := f.one(ctx, source)
	<-turns
	if err != nil {
		failures.Inc(ctx, 1)
		failed(line(source, statusFailed, named(source, err)))
		return
	}
	if status == statusSplit {
		splits.Inc(ctx, 1)
	} else {
		upToDate.Inc(ctx, 1)
	}
	done(line(source, status, ""))
}

// named is the one line of an error. A character without limbs brings help along,
// which is too long for a list.
func named(source string, err error) string {
	text := err.Error()
	if help := (*asset.NoLimbsError)(nil); errors.As(err, &help) {
		text, _, _ = strings.Cut(text, "\n")
	}
	if !strings.Contains(text, source) && !strings.Contains(text, printable(source)) {
		text = source + ": " + text
	}
	return text
}

func (f *splitFn) one(ctx context.Context, source string) (status string, err error) {
	defer func() { // a slip of the program over one file must not end a run of a million
		if r := recover(); r != nil {
			err = fmt.Errorf("%s: malformed in a way no check foresaw: %v", source, r)
		}
	}()
	data, err := filesystem.Read(ctx, f.from, source)
	if err != nil {
		return "", err
	}
	name := strings.TrimPrefix(source, under(searchOf(f.Job.From).folder, ""))
	output, record := under(f.Job.To, name), under(f.Job.To, recordFolder+"/"+name+".txt")
	if f.isUpToDate(ctx, source, data, output, record) {
		return statusUpToDate, nil
	}
	beside := newBeside(ctx, f.from, source)
	file, err := asset.Decode(source, data, beside)
	if err != nil {
		return "", err
	}
	split, _, err := asset.Split(file, f.options)
	if err != nil {
		return "", err
	}
	out, err := split.Encode(strings.HasSuffix(strings.ToLower(output), ".glb"), false)
	if err != nil {
		return "", err
	}
	if err := writeWhole(ctx, f.to, output, out); err != nil {
		return "", err
	}
	// The record comes last: without it the output is made again, which is all that
	// being killed here costs.
	made := entry{origin: beside.origin(f.shape, data), output: sum(out), beside: beside.names()}
	return statusSplit, writeWhole(ctx, f.to, record, made.text())
}
