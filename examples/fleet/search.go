package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/register"
)

func init() {
	register.DoFn4x0[context.Context, []byte, func(string), func(string)](&searchFn{})
	register.Emitter1[string]()
}

// deepest is how many folders down from --from are searched. A file system of Beam
// can tell what matches a pattern, not what a folder holds, so there is a pattern
// for each depth; what lies deeper is found and reported as a failure.
const deepest = 8

// Endings of characters, in any letter case.
var endings = []string{".[gG][lL][bB]", ".[gG][lL][tT][fF]"}

// search is how --from is looked for.
type search struct {
	folder   string // outputs keep their path from here
	patterns []string
	tooDeep  []string
}

func isCharacter(place string) bool {
	lower := strings.ToLower(place)
	return strings.HasSuffix(lower, ".glb") || strings.HasSuffix(lower, ".gltf")
}

func searchOf(from string) search {
	if isCharacter(from) {
		fixed := from
		if i := strings.IndexAny(from, "*?["); i >= 0 {
			fixed = from[:i]
		}
		return search{folder: folderOf(fixed), patterns: []string{from}}
	}
	s := search{folder: from}
	for depth := range deepest + 2 {
		for _, ending := range endings {
			pattern := under(literal(from), strings.Repeat("*/", depth)+"*"+ending)
			if depth <= deepest {
				s.patterns = append(s.patterns, pattern)
			} else {
				s.tooDeep = append(s.tooDeep, pattern)
			}
		}
	}
	return s
}

// literal is a pattern that matches a local folder's name whatever is in it.
// Object stores look a pattern's beginning up as it stands.
func literal(folder string) string {
	if !isLocal(folder) {
		return folder
	}
	return strings.NewReplacer("[", "[[]", "*", "[*]", "?", "[?]", `\`, `\\`).Replace(folder)
}

// searchFn finds the characters: their names go to found, what went wrong to failed.
type searchFn struct{ Job job }

func (f *searchFn) ProcessElement(ctx context.Context, _ []byte, found, failed func(string)) {
	fail := func(message string) {
		failures.Inc(ctx, 1)
		failed(line(f.Job.From, statusFailed, message))
	}
	files, err := filesystem.New(ctx, f.Job.From)
	if err != nil {
		fail(err.Error())
		return
	}
	defer files.Close()
	s := searchOf(f.Job.From)
	count := 0
	each := func(patterns []string, do func(place string)) {
		for _, pattern := range patterns {
			places, err := files.List(ctx, pattern)
			if err != nil {
				count++
				fail(fmt.Sprintf("%s: %v", f.Job.From, err))
			}
			for _, place := range places {
				if isLocal(place) {
					place = filepath.ToSlash(place)
				}
				if !lies(place, f.Job.To) {
					count++
					do(place)
				}
			}
		}
	}
	each(s.patterns, found)
	each(s.tooDeep, func(place string) {
		fail(fmt.Sprintf("%s: lies more than %d folders down, expected a --from that is nearer", place, deepest))
	})
	if count == 0 {
		fail(f.Job.From + ": no .glb or .gltf in this folder or below")
	}
}
