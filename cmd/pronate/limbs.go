package main

import (
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
