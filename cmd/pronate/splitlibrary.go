package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"syscall"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/library"
	"github.com/pronate/pronate/internal/printable"
	"github.com/spf13/cobra"
)

// isLibrary reports whether split is to write into a folder: where it reads
// several characters or a folder, or where -o is one.
func isLibrary(args []string, output string) bool {
	switch {
	case len(args) != 1:
		return len(args) > 1
	case isFolder(args[0]):
		return true
	}
	return !isCharacterName(output) && (isFolder(output) || output != "" && os.IsPathSeparator(output[len(output)-1]))
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// libraryOutput checks what a library is read from and written to.
func libraryOutput(args []string, output string) error {
	for _, arg := range args {
		if arg == standard {
			return usagef("IN - is split alone, expected files and folders")
		}
	}
	switch {
	case output == "" && len(args) > 1:
		return usagef("split takes one IN, found %q as well, unless -o names a folder for several", args[1])
	case output == "":
		return usagef("split needs -o OUT, the folder to write to")
	case isCharacterName(output) && !isFolder(output):
		return usagef("-o %s: expected a folder, for several characters", output)
	}
	return nil
}

// splitLibrary splits all that paths stand for into a folder.
func splitLibrary(c *cobra.Command, paths []string, dir string, how *splitFlags, body characterFlags, options library.Options, asJSON bool) error {
	if options.Workers < 0 {
		return usagef("--workers %d: expected 1 or more, or 0 for as many as suit the cores", options.Workers)
	}
	var others []string
	if how.limbs != "" && how.limbs != standard {
		others = append(others, how.limbs)
	}
	limbs, basis, contents, err := how.readForAll(c)
	if err != nil {
		return err
	}
	options.Split.Limbs, options.Split.Basis, options.Limbs = limbs.Limbs, basis, contents
	options.Split.AsAsked = body.asAsked || limbs.Resolved
	options.Program = build()
	if body.character != "" {
		others = append(others, body.character)
		if !body.isAmong(paths) {
			paths = append(slices.Clone(paths), body.character)
		}
	} else if body.resolved != "" {
		return usagef("--resolved %s: several files may be several characters, expected --character with it", body.resolved)
	}
	jobs, failed, err := library.Plan(paths, dir, others...)
	if err != nil {
		return usageError{err}
	}
	var choices []asset.Choice
	for _, job := range jobs {
		if err := body.check(job.Source, job.Output); err != nil {
			return err
		}
	}
	if body.character != "" {
		if options, choices, err = body.chooseForAll(dir, jobs, options); err != nil {
			return err
		}
	}
	ctx, stop := signal.NotifyContext(c.Context(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	tell, done := libraryProgress(c.ErrOrStderr(), jobs)
	options.Done = tell
	results, err := library.Run(ctx, dir, jobs, options)
	done()
	if err != nil {
		return err
	}
	return tellLibrary(c, dir, append(results, failed...), choices, asJSON)
}

// readForAll is read for many characters. contents are the limb file's; nil
// stands for none.
func (f *splitFlags) readForAll(c *cobra.Command) (limbs asset.Limbs, basis skin.Basis, contents []byte, err error) {
	flagsAlone := splitFlags{weights: f.weights, influences: f.influences}
	if limbs, basis, err = flagsAlone.read(c, ""); err != nil || f.limbs == "" {
		return limbs, basis, nil, err
	}
	if contents, err = read(c, f.limbs); err != nil {
		return limbs, 0, nil, err
	}
	name := f.limbs
	if name == standard {
		name = "standard input"
	}
	limbs, err = asset.ParseLimbs(name, contents)
	return limbs, basis, contents, err
}

// fileReport is one file of a library, as --json prints it.
type fileReport struct {
	File   string `json:"file"`
	Output string `json:"output,omitempty"`
	Status string `json:"status"`
	Error  string `json:"error,omitempty"`
	*asset.Report
}

// tellLibrary reports a run, what failed at the end.
func tellLibrary(c *cobra.Command, dir string, results []library.Result, choices []asset.Choice, asJSON bool) error {
	counts := map[library.Status]int{}
	files := []fileReport{}
	for _, result := range results {
		counts[result.Status]++
		file := fileReport{File: result.Source, Output: result.Output, Status: string(result.Status), Report: result.Report}
		if result.Err != nil {
			file.Error = printable.Text(result.Err.Error())
		}
		files = append(files, file)
		if result.Report != nil {
			for _, warning := range result.Report.Warnings {
				fmt.Fprintf(c.ErrOrStderr(), "pronate: warning: %s: %s\n", printable.Text(result.Source), printable.Text(warning))
			}
		}
	}
	if asJSON {
		report := map[string]any{"files": files}
		if choices != nil {
			report["choices"] = choices
		}
		if err := printJSON(c, report); err != nil {
			return err
		}
	} else {
		fmt.Fprintf(c.OutOrStdout(), "%d split, %d up to date, %d failed; written to %s\n",
			counts[library.Split], counts[library.UpToDate], counts[library.Failed], printable.Text(dir))
		printChoices(c.OutOrStdout(), choices)
		countExcursions(c.OutOrStdout(), files)
		countLive(c.OutOrStdout(), files)
	}
	for _, file := range files {
		if file.Error != "" {
			fmt.Fprintf(c.ErrOrStderr(), "pronate: %s\n", file.Error)
		}
	}
	if left := counts[library.Left]; left > 0 {
		return fmt.Errorf("broken off with %d of %d files left; the same command goes on from there", left, len(results))
	}
	if counts[library.Failed] > 0 {
		return errReported
	}
	return nil
}

// countExcursions says of how many clips it was told that they leave a joint's range
// of motion.
func countExcursions(w io.Writer, files []fileReport) {
	count := 0
	for _, file := range files {
		if file.Report == nil {
			continue
		}
		left := map[string]bool{}
		for _, e := range file.Excursions {
			left[e.Clip] = true
		}
		count += len(left)
	}
	if count > 0 {
		fmt.Fprintf(w, "clips that leave a joint's range of motion: %d (--json says which, where and when)\n", count)
	}
}
