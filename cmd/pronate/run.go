package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/printable"
	"github.com/spf13/cobra"
)

// Exit codes.
const (
	exitDone   = 0
	exitFailed = 1 // the work failed
	exitUsage  = 2 // the command line was wrong
)

// run is the program: arguments and streams in, exit code out.
func run(args []string, in io.Reader, out, messages io.Writer) int {
	watched := &watchedWriter{to: out}
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(watched)
	root.SetErr(messages)
	rewordCompletion(root)
	started := false
	root.PersistentPreRun = func(*cobra.Command, []string) { started = true }
	ran, err := root.ExecuteC()
	if watched.err != nil {
		err, started = watched.err, true
	}
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errReported):
		return exitFailed
	case started && !errors.As(err, new(usageError)):
		fmt.Fprintf(messages, "pronate: %s\n", message(err))
		return exitFailed
	}
	// Cobra refuses flags, arguments and commands before anything has started.
	fmt.Fprintf(messages, "pronate: %s; see `%s --help`\n", message(err), ran.CommandPath())
	return exitUsage
}

// message is an error as a person reads it: on one line, save for the help
// that an error brings with it.
func message(err error) string {
	if help := (*asset.NoLimbsError)(nil); errors.As(err, &help) {
		return err.Error()
	}
	return printable.Text(err.Error())
}

// watchedWriter remembers the first failure, for those who print and do not
// look, such as the help.
type watchedWriter struct {
	to  io.Writer
	err error
}

func (w *watchedWriter) Write(data []byte) (int, error) {
	n, err := w.to.Write(data)
	if err != nil && w.err == nil {
		w.err = err
	}
	return n, err
}

// errReported ends a command whose failures have been printed already.
var errReported = errors.New("failures were reported")

// usageError is a mistake on the command line.
type usageError struct{ error }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// rewordCompletion has the command that prints shell completion, which is
// cobra's, say so in the words of the others. It prints to where root's output
// goes at this moment.
func rewordCompletion(root *cobra.Command) {
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		if c.Name() != "completion" {
			continue
		}
		c.Short = "Print shell completion"
		c.Long = "Completion prints a script that has a shell complete pronate's commands, flags and\nfiles. Each shell's own help says where the script goes."
		for _, shell := range c.Commands() {
			shell.Short = "Print completion for " + shell.Name()
			shell.Long = strings.Replace(shell.Long, "Generate the autocompletion script for the", "Print the completion script for the", 1)
		}
	}
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "pronate",
		Short: "Split limb bones into deform segments and share the twist out along them",
		Long: `Pronate splits the limb bones of a skinned glTF 2.0 character into deform
segments, shares the twist of the joint (or of the hand) out along them, hands
the skin weights over smoothly and bakes the clips.

Results go to standard output, messages to standard error. Exit code: 0 done,
1 the work failed, 2 the command line was wrong. Files are written whole or not
at all.`,
		Example: `  pronate demo
  pronate split character.glb -o character-split.glb`,
		Version:       version(),
		Args:          noArguments,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(c *cobra.Command, _ []string) error {
			return c.Help()
		},
	}
	root.SetVersionTemplate("pronate {{.Version}}\n")
	root.SuggestionsMinimumDistance = 2 // letters
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(newDemo(), newDetect(), newSplit(), newCheck(), newSweep(), newPlan(), newSolve())
	return root
}
