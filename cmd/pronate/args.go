package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

// noArguments is for commands that take flags only.
func noArguments(c *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return nil
	case !c.HasParent():
		near := ""
		if names := c.SuggestionsFor(args[0]); len(names) > 0 {
			near = fmt.Sprintf(", did you mean %q?", names[0])
		}
		return usagef("unknown command %q%s", args[0], near)
	}
	return usagef("%s takes flags only, found %q", c.Name(), args[0])
}

// oneCharacter is for commands that read a character.
func oneCharacter(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return usagef("%s needs IN, the character to read", c.Name())
	}
	return atMostOne("IN")(c, args)
}

func atMostOne(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) > 1 {
			return usagef("%s takes one %s, found %q as well", c.Name(), what, args[1])
		}
		return nil
	}
}

// What shells complete names with: files with one of these extensions.
var (
	characterFiles = []string{"glb", "gltf"}
	limbFiles      = []string{"yaml", "yml", "json"}
)

// completeCharacter completes the one character that a command reads.
func completeCharacter(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return characterFiles, cobra.ShellCompDirectiveFilterFileExt
}

// must is for what fails by a slip in the program alone, such as a completion
// for a flag that does not exist.
func must(errs ...error) {
	for _, err := range errs {
		if err != nil {
			panic(err)
		}
	}
}
