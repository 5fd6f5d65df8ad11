package main

import (
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"github.com/spf13/cobra"
)

// splitFlags say what to split and how to hand weights over: of split, and of
// check, which splits to see what it gains.
type splitFlags struct {
	limbs, weights string
	influences     int
}

func (f *splitFlags) register(c *cobra.Command) {
	flags := c.Flags()
	flags.StringVar(&f.limbs, "limbs", "", "limb file that says what to split, - for standard input (default: what detect proposes)")
	flags.StringVar(&f.weights, "weights", "quadratic", "how weights hand over along a bone: quadratic, hat or cubic")
	flags.IntVar(&f.influences, "influences", 4, "the most joints that may move a vertex: 4 or 8")
	fixed := func(words ...cobra.Completion) cobra.CompletionFunc {
		return cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)
	}
	must(
		c.MarkFlagFilename("limbs", limbFiles...),
		c.RegisterFlagCompletionFunc("weights", fixed("quadratic", "hat", "cubic")),
		c.RegisterFlagCompletionFunc("influences", fixed("4", "8")),
	)
}

// read checks the flags and reads the limb file, for the character in.
func (f *splitFlags) read(c *cobra.Command, in string) (limbs asset.Limbs, basis skin.Basis, err error) {
	if basis, err = basisOf(f.weights); err != nil {
		return limbs, 0, err
	}
	if f.influences != 4 && f.influences != 8 {
		return limbs, 0, usagef("--influences %d: expected 4 or 8", f.influences)
	}
	limbs, err = readLimbs(c, f.limbs, in)
	return limbs, basis, err
}

func basisOf(name string) (skin.Basis, error) {
	switch name {
	case "quadratic":
		return skin.Quadratic, nil
	case "hat":
		return skin.Hat, nil
	case "cubic":
		return skin.Cubic, nil
	}
	return 0, usagef("--weights %s: expected quadratic, hat or cubic", name)
}
