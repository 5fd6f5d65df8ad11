package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"sync"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
)

// recordFolder, in the folder of outputs, holds one small record for each output.
// One record of all, as the command line keeps, would be one file for all workers
// to write.
const recordFolder = ".fleet"

// recordVersion is that of the records' format, and of what goes into their hashes.
const recordVersion = 1

// entry says what an output was made from.
type entry struct {
	origin string   // hash of all that its bytes come from
	output string   // hash of its bytes
	beside []string // files that the source refers to, by path from its folder
}

func (e entry) text() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "made from %s\noutput %s\n", e.origin, e.output)
	for _, name := range e.beside {
		fmt.Fprintf(&b, "beside %q\n", name)
	}
	return []byte(b.String())
}

// parseEntry reads a record; one that is damaged says nothing, and the output is
// made anew.
func parseEntry(data []byte) (e entry, ok bool) {
	for text := range strings.Lines(string(data)) {
		text = strings.TrimSuffix(text, "\n")
		if origin, is := strings.CutPrefix(text, "made from "); is {
			e.origin = origin
		} else if output, is := strings.CutPrefix(text, "output "); is {
			e.output = output
		} else if quoted, is := strings.CutPrefix(text, "beside "); is {
			name, err := strconv.Unquote(quoted)
			if err != nil {
				return entry{}, false
			}
			e.beside = append(e.beside, name)
		}
	}
	return e, e.origin != "" && e.output != ""
}

// isUpToDate reports whether an output is what splitting its source would give.
// Only contents count, neither times nor names.
func (f *splitFn) isUpToDate(ctx context.Context, source string, data []byte, output, record string) bool {
	text, err := filesystem.Read(ctx, f.to, record)
	if err != nil {
		return false
	}
	made, ok := parseEntry(text)
	if !ok {
		return false
	}
	now := newBeside(ctx, f.from, source)
	for _, name := range made.beside {
		now.Open(name) // for its hash; what cannot be read has one too
	}
	if now.origin(f.shape, data) != made.origin {
		return false
	}
	out, err := filesystem.Read(ctx, f.to, output)
	return err == nil && sum(out) == made.output
}

// shape is what an output depends on beside the files of its source.
func shape(program string, limbs []byte) string {
	if limbs == nil {
		return fmt.Sprintf("%d %s detected", recordVersion, program)
	}
	return fmt.Sprintf("%d %s %s", recordVersion, program, sum(limbs))
}

func sum(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:])
}

// programSum is the hash of the worker's own program, the surest name of what made
// an output: a build from a checkout has no version.
var programSum = sync.OnceValues(func() (string, error) {
	path, err := os.Executable()
	if err != nil {
		return "", err
	}
	program, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer program.Close()
	h := sha256.New()
	_, err = io.Copy(h, program)
	return hex.EncodeToString(h.Sum(nil)), err
})
