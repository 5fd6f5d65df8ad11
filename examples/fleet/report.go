package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/register"
)

func init() {
	register.DoFn3x1[context.Context, int, func(*string) bool, error](&reportFn{})
	register.Iter1[string]()
}

// Statuses, those of the command line.
const (
	statusSplit    = "split"
	statusUpToDate = "up to date"
	statusFailed   = "failed"
)

// line is one of the report: source, status and, of a failed one, what is wrong.
func line(source, status, message string) string {
	return printable(source) + "\t" + status + "\t" + printable(message)
}

// printable keeps a text on its line and in its column.
func printable(text string) string {
	if strings.IndexFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) < 0 {
		return text
	}
	return strconv.Quote(text)
}

func (j job) report() string { return under(j.To, "fleet-report.tsv") }

// reportFn writes the report, sorted, once all is done.
type reportFn struct{ Job job }

func (f *reportFn) ProcessElement(ctx context.Context, _ int, next func(*string) bool) error {
	var lines []string
	for text := ""; next(&text); {
		lines = append(lines, text+"\n")
	}
	slices.Sort(lines)
	files, err := filesystem.New(ctx, f.Job.To)
	if err != nil {
		return err
	}
	defer files.Close()
	return writeWhole(ctx, files, f.Job.report(), []byte(strings.Join(lines, "")))
}

// tell prints what the report has, failures last, and gives the exit code.
func tell(ctx context.Context, j job, stdout, stderr io.Writer) int {
	files, err := filesystem.New(ctx, j.To)
	if err != nil {
		fmt.Fprintf(stderr, "fleet: %v\n", err)
		return exitFailed
	}
	defer files.Close()
	data, err := filesystem.Read(ctx, files, j.report())
	if err != nil {
		fmt.Fprintf(stderr, "fleet: %s: %v\n", j.report(), err)
		return exitFailed
	}
	counts := map[string]int{}
	var failed []string
	for text := range strings.Lines(string(data)) {
		columns := strings.SplitN(strings.TrimSuffix(text, "\n"), "\t", 3)
		if len(columns) != 3 {
			fmt.Fprintf(stderr, "fleet: %s: %q is no line of a report\n", j.report(), text)
			return exitFailed
		}
		counts[columns[1]]++
		if columns[1] == statusFailed {
			failed = append(failed, columns[2])
		}
	}
	fmt.Fprintf(stdout, "%d split, %d up to date, %d failed; written to %s\n",
		counts[statusSplit], counts[statusUpToDate], counts[statusFailed], printable(j.To))
	for _, message := range failed {
		fmt.Fprintf(stderr, "fleet: %s\n", message)
	}
	if len(failed) > 0 {
		return exitFailed
	}
	return 0
}
