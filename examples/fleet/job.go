package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
	"github.com/pronate/pronate/chain/asset"
)

// job is what a run is asked for. It travels to the workers inside the transforms,
// limb file and all: they may have no file of the machine that started it.
type job struct {
	From      string // folder or pattern
	To        string // folder
	Limbs     []byte // contents of the limb file; nil for none
	LimbsName string // for messages
}

// newJob checks what is asked for, while someone is there to read it.
func newJob(ctx context.Context, from, to, limbs string) (job, error) {
	if from == "" || to == "" {
		return job{}, errors.New("expected --from, a folder or a pattern, and --to, a folder")
	}
	var err error
	j := job{LimbsName: limbs}
	if j.From, err = anywhere(from); err != nil {
		return job{}, err
	}
	if j.To, err = anywhere(to); err != nil {
		return job{}, err
	}
	if err := apart(searchOf(j.From).folder, j.To); err != nil {
		return job{}, err
	}
	for _, place := range []string{j.From, j.To} {
		files, err := filesystem.New(ctx, place)
		if err != nil {
			return job{}, err
		}
		files.Close()
	}
	if limbs == "" {
		return j, nil
	}
	files, err := filesystem.New(ctx, limbs)
	if err != nil {
		return job{}, err
	}
	defer files.Close()
	if j.Limbs, err = filesystem.Read(ctx, files, limbs); err != nil {
		return job{}, fmt.Errorf("--limbs %s: %w", limbs, err)
	}
	_, err = asset.ParseLimbs(limbs, j.Limbs)
	return j, err
}

// build lays the pipeline out. Its elements are names of files and lines of the
// report, never the files: no runner has to move or hold them. The reshuffle lets
// a runner spread the names over its workers, which it would otherwise keep with
// the one that searched.
func (j job) build(s beam.Scope) {
	sources, unmatched := beam.ParDo2(s.Scope("search"), &searchFn{Job: j}, beam.Impulse(s))
	names := beam.Reshuffle(s.Scope("spread"), sources)
	done, failed := beam.ParDo2(s.Scope("split"), &splitFn{Job: j}, names)
	lines := beam.Flatten(s, done, beam.Flatten(s, unmatched, failed))
	together := beam.GroupByKey(s, beam.AddFixedKey(s, lines))
	beam.ParDo0(s.Scope("report"), &reportFn{Job: j}, together)
}
