package library

import (
	"context"
	"encoding/json"
	"os"
	"runtime"
	"sync"

	"github.com/pronate/pronate/chain/asset"
)

// Options say how a library is split.
type Options struct {
	Split     asset.Options // its Progress is not told
	Limbs     []byte        // the limb file that Split's limbs come from; nil for none
	Character string        // hash of the file of the character; empty where each file is its own
	Program   string        // names the program's code: another may give other bytes
	Workers   int           // files at a time; 0 means DefaultWorkers

	// Done, where it is not nil, is told of each file, one at a time.
	Done func(Result)
}

// DefaultWorkers is how many files are split at a time: half the cores and one.
// A split shares its limbs out over all cores, and reads, weighs and writes on
// one; so many fill the gaps, and hold half as many files in memory as there are
// cores.
func DefaultWorkers() int { return runtime.GOMAXPROCS(0)/2 + 1 }

// shape is what the output depends on beside the files of its source.
func (o Options) shape() (string, error) {
	limbs := ""
	if o.Limbs != nil {
		limbs = sum(o.Limbs)
	}
	text, err := json.Marshal(struct {
		Version       int
		Program       string
		Limbs         string
		Character     string
		AsAsked       bool
		Basis, Joints int
		Tolerance     float64
		History       bool
		Names         string
		Live          asset.Live
		Nearest       bool
	}{recordVersion, o.Program, limbs, o.Character, o.Split.AsAsked, int(o.Split.Basis), o.Split.Influences, o.Split.Tolerance, o.Split.History, o.Split.Names, o.Split.Live, o.Split.Nearest})
	return string(text), err
}

// Run splits the jobs of a plan into dir and says of each what came of it, in the
// plan's order. When ctx ends, files under way are finished and the others come
// back as Left. An error is one of the folder or the record, which nothing can go
// on without.
func Run(ctx context.Context, dir string, jobs []Job, options Options) ([]Result, error) {
	shape, err := options.shape()
	if err != nil {
		return nil, err
	}
	options.Split.Progress = nil
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, err
	}
	tidy(dir, jobs)
	record, err := readRecord(dir)
	if err != nil {
		return nil, err
	}
	record.forget(dir)
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	var (
		next    = make(chan int)
		all     sync.WaitGroup
		telling sync.Mutex
		results = make([]Result, len(jobs))
		broken  error
	)
	workers := options.Workers
	if workers <= 0 {
		workers = DefaultWorkers()
	}
	for range min(workers, len(jobs)) {
		all.Go(func() {
			for i := range next {
				result, err := one(jobs[i], options, shape, record)
				telling.Lock()
				results[i] = result
				if err != nil && broken == nil {
					broken = err
					stop(err)
				}
				if options.Done != nil {
					options.Done(result)
				}
				telling.Unlock()
			}
		})
	}
	for i, job := range jobs {
		results[i] = Result{Job: job, Status: Left}
	}
	for i := range jobs {
		if ctx.Err() != nil {
			break
		}
		select {
		case next <- i:
		case <-ctx.Done():
		}
	}
	close(next)
	all.Wait()
	if broken != nil {
		return results, broken
	}
	return results, record.write()
}
