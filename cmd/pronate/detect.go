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
found by the usual words for body parts in joint names and by how the joints
hang together.`,
		Example: `  pronate detect character.glb > limbs.yaml
  pronate split character.glb --limbs limbs.yaml -o character-split.glb`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			file, err := open(c, args[0])
			if err != nil {
				return err
			}
			limbs, err := asset.Detect(file)
			if err != nil {
				return err
			}
			if asJSON {
				return printJSON(c, limbs)
			}
			return write(c, output, limbs.YAML())
		},
	}
	c.Flags().StringVarP(&output, "output", "o", standard, "the limb file to write")
	c.Flags().BoolVar(&asJSON, "json", false, "print the limbs as JSON")
	return c
}
