package main

import (
	"errors"

	"github.com/pronate/pronate/chain/asset"
	"github.com/spf13/cobra"
)

// readLimbs reads the limb file that a flag names, for the character in; nil
// where there is none.
func readLimbs(c *cobra.Command, name, in string) ([]asset.LimbSpec, error) {
	switch {
	case name == "":
		return nil, nil
	case name == standard && in == standard:
		return nil, usagef("--limbs - and IN - both want standard input")
	}
	data, err := read(c, name)
	if err != nil {
		return nil, err
	}
	if name == standard {
		name = "standard input"
	}
	parsed, err := asset.ParseLimbs(name, data)
	return parsed.Limbs, err
}

func checkInfluences(n int) error {
	if n != 4 && n != 8 {
		return usagef("--influences %d: expected 4 or 8", n)
	}
	return nil
}

// completeSkinFlags completes the flags that say how weights are handed over.
func completeSkinFlags(c *cobra.Command) error {
	fixed := func(words ...cobra.Completion) cobra.CompletionFunc {
		return cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)
	}
	return errors.Join(
		c.RegisterFlagCompletionFunc("weights", fixed("quadratic", "hat", "cubic")),
		c.RegisterFlagCompletionFunc("influences", fixed("4", "8")),
	)
}
