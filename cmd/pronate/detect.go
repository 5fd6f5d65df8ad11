package main

import (
	"github.com/pronate/pronate/chain/asset"
	"github.com/spf13/cobra"
)

func newDetect() *cobra.Command {
	var output string
	var asJSON bool
	c := &cobra.Command{
		Use:   "detect IN",
		Short: "Propose the limbs of a character as a limb file",
		Long: `Detect reads a .glb or .gltf character ("-" for standard input) and proposes
what to split, as a limb file: YAML that split takes with --limbs. Limbs are
found by the usual words for body parts in joint names and by the hierarchy of
joints, or by the map of human bones in a VRM file. Shins and other hinges
are left alone; a limb file may name them. Limbs that are rigid pieces, or whose
skin is not joined to the body's, are not proposed: a comment says which and why.
A file of clips without a mesh is read by names and hierarchy alone.

The number of segments is left to split (auto), and so is the field: split decides
both by measuring. Write a number, or a field, to set it yourself.`,
		Example: `  pronate detect character.glb > limbs.yaml
  pronate split character.glb --limbs limbs.yaml -o character-split.glb`,
		Args:              oneCharacter,
		ValidArgsFunction: completeCharacter,
		RunE: func(c *cobra.Command, args []string) error {
			if err := apart(args[0], output); err != nil {
				return err
			}
			file, err := open(c, args[0])
			if err != nil {
				return err
			}
			limbs, err := asset.Detect(file)
			if err != nil {
				return err
			}
			if asJSON {
				data, err := encodeJSON(limbsAsJSON(limbs))
				if err != nil {
					return err
				}
				return write(c, output, data)
			}
			return write(c, output, limbs.YAML())
		},
	}
	c.Flags().StringVarP(&output, "output", "o", standard, "the limb file to write")
	c.Flags().BoolVar(&asJSON, "json", false, "write the limb file as JSON, which is YAML too")
	must(c.MarkFlagFilename("output", limbFiles...))
	return c
}
