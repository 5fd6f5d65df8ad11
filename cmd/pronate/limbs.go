package main

import (
	"github.com/pronate/pronate/chain/asset"
	"github.com/spf13/cobra"
)

// readLimbs reads the limb file that a flag names, for the character in; without
// limbs where there is none.
func readLimbs(c *cobra.Command, name, in string) (asset.Limbs, error) {
	switch {
	case name == "":
		return asset.Limbs{}, nil
	case name == standard && in == standard:
		return asset.Limbs{}, usagef("--limbs - and IN - both want standard input")
	}
	data, err := read(c, name)
	if err != nil {
		return asset.Limbs{}, err
	}
	if name == standard {
		name = "standard input"
	}
	return asset.ParseLimbs(name, data)
}
