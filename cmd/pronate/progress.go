package main

import (
	"io"

	"github.com/vbauerster/cupwriter"
	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
)

// progress shows how far a long piece of work is, to a person: on anything but
// a terminal it is nil, and whoever is to report progress has nothing to call.
// done is called at the end in either case.
func progress(w io.Writer, what string) (report func(done, total int), done func()) {
	if !isTerminal(w) {
		return nil, func() {}
	}
	container := mpb.New(mpb.WithOutput(w), mpb.WithWidth(40))
	bar := container.AddBar(0,
		mpb.PrependDecorators(decor.Name(what+" ")),
		mpb.AppendDecorators(decor.CountersNoUnit("%d of %d")),
		mpb.BarRemoveOnComplete())
	report = func(done, total int) {
		bar.SetTotal(int64(total), false)
		bar.SetCurrent(int64(done))
	}
	return report, func() {
		bar.SetTotal(-1, true)
		container.Wait()
	}
}

// isTerminal reports whether w is a person's terminal, by the progress bar's own
// test: a device that is none, such as /dev/null, is not.
func isTerminal(w io.Writer) bool { return cupwriter.New(w, false).IsTerminal() }
