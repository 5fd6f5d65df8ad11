package main

import (
	"io"
	"sync"
	"time"

	"github.com/pronate/pronate/internal/library"
	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
)

// libraryProgress shows how many files are done and how long the rest may take,
// to a person: on anything but a terminal tell is nil. done is called at the end
// in either case.
func libraryProgress(w io.Writer, jobs []library.Job) (tell func(library.Result), done func()) {
	if !isTerminal(w) || len(jobs) == 0 {
		return nil, func() {}
	}
	rest := newEstimate(jobs)
	container := mpb.New(mpb.WithOutput(w), mpb.WithWidth(40))
	bar := container.AddBar(int64(len(jobs)),
		mpb.PrependDecorators(decor.Name("splitting files ")),
		mpb.AppendDecorators(
			decor.CountersNoUnit("%d of %d"),
			decor.Any(func(decor.Statistics) string { return rest.text(time.Now()) })),
		mpb.BarRemoveOnComplete())
	return func(result library.Result) {
			rest.count(result, time.Now())
			bar.Increment()
		}, func() {
			bar.Abort(true) // nothing where it is complete
			container.Wait()
		}
}

// estimate reckons how long the rest of a library takes from the bytes of sources
// that took so long. Files that are up to date go by at once: neither their bytes
// nor the time until the first that was not say anything about the rest.
type estimate struct {
	lock        sync.Mutex
	since       time.Time
	spent       time.Duration // until the last file that was split
	worked, all int64         // bytes split, and those with the ones to come
}

func newEstimate(jobs []library.Job) *estimate {
	e := &estimate{since: time.Now()}
	for _, job := range jobs {
		e.all += job.Size
	}
	return e
}

func (e *estimate) count(result library.Result, now time.Time) {
	e.lock.Lock()
	defer e.lock.Unlock()
	if result.Status == library.Split {
		e.worked += result.Size
		e.spent = now.Sub(e.since)
		return
	}
	e.all -= result.Size
	if e.worked == 0 {
		e.since = now
	}
}

// text is empty until there is something to go by.
func (e *estimate) text(now time.Time) string {
	e.lock.Lock()
	defer e.lock.Unlock()
	if e.worked <= 0 {
		return ""
	}
	rest := time.Duration(float64(e.spent) * float64(e.all-e.worked) / float64(e.worked))
	rest -= now.Sub(e.since) - e.spent // gone by since
	return ", about " + max(rest, 0).Round(time.Second).String() + " left"
}
