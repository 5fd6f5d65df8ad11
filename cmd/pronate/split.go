package main

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/library"
	"github.com/pronate/pronate/internal/printable"
	"github.com/pronate/pronate/internal/report"
	"github.com/pronate/pronate/internal/wholefile"
	"github.com/spf13/cobra"
)

func newSplit() *cobra.Command {
	var output, names string
	toleranceFlag := decimal{value: 0.05, such: "0.05"}
	var how splitFlags
	var asJSON, history bool
	var live liveFlags
	var workers int
	var body characterFlags
	c := &cobra.Command{
		Use:   "split IN... -o OUT",
		Short: "Split limb bones, re-weight the skin and bake the clips",
		Long: `Split reads a skinned .glb or .gltf character ("-" for standard input), splits
the bones that the limb file names (or that detect proposes), gives each vertex's
weight on a split joint to its segments, and bakes every clip that turns a limb.
The bind pose does not move. Everything else is copied as it was.

Before it writes, split measures each limb unsplit and split: the strain of the
skin that the limb moves, and the radius of its sections. The poses are those
moments of the clips in which the limb is twisted or bent most, and some between;
the corners of its range of motion, reached by the shortest arc; and twists of 45
and 90 degrees both ways. Where a pose is more than 3 % worse, split tries more
segments, up to 6, leaves pieces of the skin as they were, or bends by the
shortest arc. A limb that is still worse, or that gains nothing, is not split, and
the report says why. The two sides of a body are split alike. For a limb whose
range passes the direction opposite to rest, such as an arm that hangs, the limit
is 8 % up to 135 degrees from rest and 25 % from 140 to 160; beyond there is none.
A number of segments in a limb file is kept, and what gets worse is reported.
--as-asked turns all of this off.

--resolved writes the limb file with everything that was decided. Split takes such
a file as it is. --json lists what was tried, as choices.

--weights sets how skin passes from one segment to the next: hat is linear
between two, so that most radius is lost half-way between them; quadratic spreads
the loss evenly over three; cubic is smoother, over four, and needs more
influences.

Each pose has one answer, whatever came before it. --history follows the clips
instead: a twist continues past half a turn without a flip, and no direction is
singular. In a clip that ends as it began, the closing error is distributed over
the clip, and reported where it is more than the tolerance.

--live adds constraints of the open standard VRMC_node_constraint 1.0. Programs
that know it turn the segments with any pose, without a clip: forearms by roll,
limbs of the shortest or a centred field by aims. Clips are baked as well, unless
--live-only is given. A limb that constraints cannot express exactly is only baked,
and the report says why. A balanced field is such a case; --nearest takes the
nearest centred field in its place.

Several files, or folders, which are searched recursively for .glb and .gltf, are
split into the folder OUT, several at a time. A file goes there by its name, one
from a folder by its path below it. Files that fail are listed at the end and do
not stop the others. ` + library.RecordName + ` in OUT holds hashes of what each output
was made from: a second run, also after an interrupted one, makes only what has
changed. Only one run at a time may write to a folder.

--character names the file of the character whose clips the files hold. Limbs are
then decided once, on its skin and all the clips, and ` + resolvedName + ` in OUT
records them, so that all files get the same segments. Files without a mesh need
it, or --limbs.

With --json several files are printed as files, each with: file, output, status
(split, up to date, failed, or left after an interruption), error, and the report
where it was split.`,
		Example: `  pronate split character.glb -o character-split.glb
  pronate split character.glb --limbs limbs.yaml --json -o character-split.glb
  pronate split character.glb --live --nearest -o character-split.glb
  pronate split --character character.glb clips/ -o clips-split/`,
		Args: func(c *cobra.Command, args []string) error {
			if isLibrary(args, output) {
				return libraryOutput(args, output)
			}
			return oneCharacter(c, args)
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
			return characterFiles, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(c *cobra.Command, args []string) error {
			inFolder := isLibrary(args, output)
			switch {
			case inFolder: // libraryOutput has looked at it
			case output == "":
				return usagef("split needs -o OUT, the file to write")
			case output == standard && asJSON:
				return usagef("-o - and --json both want standard output")
			case !isCharacterName(output):
				return usagef("-o %s: expected a name that ends in .glb or .gltf, or -", output)
			}
			if !strings.Contains(names, "{joint}") || !strings.Contains(names, "{n}") {
				return usagef("--names %s: expected {joint} and {n} in it", names)
			}
			if !inFolder {
				if err := apart(args[0], output); err != nil {
					return err
				}
			}
			tolerance := toleranceFlag.value
			options := asset.Options{Influences: how.influences, History: history, Names: names, Tolerance: tolerance * math.Pi / 180}
			if !(tolerance > 0 && tolerance <= 180) {
				return usagef("--tolerance %g: expected degrees, more than 0 and at most 180", tolerance)
			}
			if err := live.read(&options); err != nil {
				return err
			}
			if err := body.check(append(args, output, how.limbs, body.character)...); err != nil {
				return err
			}
			if inFolder {
				return splitLibrary(c, args, output, &how, body, library.Options{Split: options, Workers: workers}, asJSON)
			}
			limbs, basis, err := how.read(c, args[0])
			if err != nil {
				return err
			}
			options.Basis = basis
			options.Limbs, options.AsAsked = limbs.Limbs, body.asAsked || limbs.Resolved
			result, err := splitFile(c, args[0], output, options, body)
			if err != nil {
				return err
			}
			for _, warning := range result.Warnings {
				fmt.Fprintf(c.ErrOrStderr(), "pronate: warning: %s\n", printable.Text(warning))
			}
			switch {
			case asJSON:
				return printJSON(c, result)
			case output == standard:
				return nil
			}
			printSplit(c.OutOrStdout(), result, tolerance)
			if how.influences == 4 && report.Crowded(result) {
				fmt.Fprintln(c.OutOrStdout(), "more than 10 % of a vertex's weight moved: --influences 8 makes room")
			}
			fmt.Fprintf(c.OutOrStdout(), "\nwritten: %s\n", printable.Text(output))
			return nil
		},
	}
	flags := c.Flags()
	flags.StringVarP(&output, "output", "o", "", "the .glb or .gltf to write (- for a .glb on standard output), or a folder")
	how.register(c)
	flags.Var(&toleranceFlag, "tolerance", "degrees by which a baked curve may leave the solver's, between keys too")
	flags.BoolVar(&history, "history", false, "follow each clip's twist as it comes about, instead of pose by pose")
	live.register(c)
	flags.StringVar(&names, "names", asset.DefaultNames, "names of the new joints, from the joint's name, a number and, optionally, the side at the end of the name, which {joint} then leaves out")
	flags.IntVar(&workers, "workers", 0, "how many of several files to split, and hold in memory, at a time (default: half the cores and one)")
	body.register(c)
	flags.BoolVar(&asJSON, "json", false, "print the report as JSON")
	must(c.MarkFlagFilename("output", characterFiles...))
	return c
}

func isCharacterName(name string) bool {
	extension := strings.ToLower(filepath.Ext(name))
	return name == standard || extension == ".glb" || extension == ".gltf"
}

// splitFile reads, splits and writes one character.
func splitFile(c *cobra.Command, in, out string, options asset.Options, body characterFlags) (asset.Report, error) {
	file, err := open(c, in)
	if err != nil {
		return asset.Report{}, err
	}
	var choices []asset.Choice
	if body.character != "" {
		if _, choices, err = body.choose(&options, []string{in}); err != nil {
			return asset.Report{}, err
		}
	}
	var done func()
	options.Progress, done = progress(c.ErrOrStderr(), "baking clips")
	split, report, err := asset.Split(file, options)
	done()
	if err != nil {
		return report, err
	}
	if report.Choices == nil {
		report.Choices = choices
	}
	if out == standard {
		data, err := split.Encode(true, false)
		if err != nil {
			return report, err
		}
		if err := write(c, out, data); err != nil {
			return report, err
		}
	} else if err := split.Save(out); err != nil {
		return report, err
	}
	if body.resolved != "" {
		return report, wholefile.Write(body.resolved, report.Resolved.YAML())
	}
	return report, nil
}
