package main

import (
	"fmt"
	"path/filepath"

	"github.com/pronate/pronate/internal/check"
	"github.com/pronate/pronate/internal/printable"
	"github.com/pronate/pronate/internal/report"
	"github.com/spf13/cobra"
)

func newCheck() *cobra.Command {
	var folder string
	var how splitFlags
	var asJSON, all bool
	c := &cobra.Command{
		Use:   "check IN",
		Short: "Show what a split does to a character's skin, in its own clips and in synthetic poses",
		Long: `Check reads a .glb or .gltf character ("-" for standard input) that has not been
split, decides what to split as split does, and measures what split would write.
Limbs that stay as they are are listed with the reason.

The character's own clips come first: of each clip the moments at which the source
is strained most, the split is strained most, and the two differ most. Then come
synthetic poses: twists of 45 and 90 degrees, and directions of the joint's range of
motion, reached by the shortest arc from rest so that no twist hides in them.

Strain decides: the mean over all skin of (smaller stretch - 1)^2 + (larger stretch
- 1)^2, against the bind pose. A pose is worse if the split raises it by more than
3 %, better if it lowers it by more than 3 %. A clip is worse if any of its frames
is. Beside it stand the minimum radius of the limb's sections and the volume between
the ends of the bone, as parts of what they are at rest. Poses that are the same are
counted; --all lists them. A dash stands for what could not be measured: a volume of
0 or less or more than threefold, or skin that turns by more than 180 degrees in a
tenth of the bone.

It compares numbers of segments, for linear-blend and for dual-quaternion skinning,
and looks at knees and elbows: how far any clip turns them off their hinge (clean:
twist and side-bend within 5 degrees) or back past rest (reported beyond 5 degrees),
and how deep the skin intersects itself when they are closed.

Advice is tried before it is given: it improves the figure that it names and worsens
no other by more than 1 %.

With -o it writes a folder:

  check.html              all of it on one page, with pictures
  check-1.png, …          the pictures of the limbs, before and after
  bones.svg, .png, .csv   radius and twist along the bones
  segments.svg, .png, .csv  what is lost over the number of segments

With --json it prints, null standing for what was not measured:

  limbs       those that are split, each with its range of motion (hip, shoulder,
              wrist, limits or none), its field, its clips' greatest twist, the
              segments that are enough, and radius and volume at a twist of 90 degrees
  not_split   the other limbs, each with the reason
  clips, synthetic                    how many are better, worse and the same
  clips_verdict, synthetic_verdict    the same in words
  poses       kind clip, twist or range; source and split; clip, time_s and moment
              for moments of clips
  tradeoff    what 1 to 6 segments leave of each limb at a twist of 90 degrees
  hinges      knees and elbows, clip by clip
  folds       self-intersection at closed hinges
  excursions  clips that leave a range of motion
  advice      text; set: the settings (limb, key, value); the figure that it is about,
              before and after
  remarks, warnings, files   as printed

Ranges of motion are for animation; they are no clinical advice.`,
		Example: `  pronate check character.glb -o check
  pronate check character.glb --limbs limbs.yaml --json`,
		Args:              oneCharacter,
		ValidArgsFunction: completeCharacter,
		RunE: func(c *cobra.Command, args []string) error {
			o := check.Options{Influences: how.influences}
			limbs, basis, err := how.read(c, args[0])
			if err != nil {
				return err
			}
			o.Limbs, o.AsAsked, o.Basis = limbs.Limbs, limbs.Resolved, basis
			file, err := open(c, args[0])
			if err != nil {
				return err
			}
			var done func()
			o.Progress, done = progress(c.ErrOrStderr(), "checking")
			found, err := check.Run(file, o)
			done()
			if err != nil {
				return err
			}
			var written []string
			if folder != "" {
				if written, err = drawCheck(folder, args[0], found); err != nil {
					return err
				}
			}
			if asJSON {
				return printJSON(c, checkReport{found, written})
			}
			printCheck(c.OutOrStdout(), found, all)
			for _, path := range written {
				fmt.Fprintf(c.OutOrStdout(), "written: %s\n", printable.Text(path))
			}
			return nil
		},
	}
	flags := c.Flags()
	flags.StringVarP(&folder, "output", "o", "", "a folder to write the page, pictures and figures into")
	how.register(c)
	flags.BoolVar(&all, "all", false, "list all poses, those that are the same too")
	flags.BoolVar(&asJSON, "json", false, "print the figures as JSON")
	must(c.MarkFlagDirname("output"))
	return c
}

// checkReport is what check prints as JSON.
type checkReport struct {
	*check.Findings
	Files []string `json:"files,omitempty"`
}

// drawCheck writes the page and its parts.
func drawCheck(folder, in string, f *check.Findings) ([]string, error) {
	title := filepath.Base(in)
	if in == standard {
		title = "character"
	}
	page, err := report.NewCheck("Check of "+printable.Text(title), f)
	if err != nil {
		return nil, err
	}
	html, err := page.HTML()
	if err != nil {
		return nil, err
	}
	files := []namedFile{{"check.html", html}}
	for i, sheet := range page.Sheets {
		files = append(files, namedFile{fmt.Sprintf("check-%d.png", i+1), sheet.Light})
	}
	written, err := writeAll(folder, files)
	if err != nil {
		return written, err
	}
	if len(f.Limbs) == 0 {
		return written, nil // nothing to plot
	}
	bones, err := report.PlotBones(f, report.Light)
	if err != nil {
		return written, err
	}
	counts, err := report.PlotCounts(f, report.Light)
	if err != nil {
		return written, err
	}
	for _, figure := range []struct {
		name    string
		plots   report.Plots
		numbers []byte
	}{{"bones", bones, report.SectionsCSV(f)}, {"segments", counts, report.CountsCSV(f)}} {
		more, err := writeFigure(folder, figure.name, figure.plots, figure.numbers)
		if err != nil {
			return written, err
		}
		written = append(written, more...)
	}
	return written, nil
}
