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
		Short: "Show what a character's skin loses, one joint a bone against segments",
		Long: `Check reads a .glb or .gltf character ("-" for standard input) that has not been
split, puts its limbs through a series of twists, the corners of their ranges of
motion and the worst moment of every clip, and measures what is left of them,
with one joint a bone and split: the radius of the narrowest section and the
volume between the ends of the bone, as parts of what they are at rest.

A limb holds where 95 % of the radius is left, narrows down to 85 % (a loss of
5 to 15 %) and collapses below. Better, worse and same go by the radius, to 1 %;
a volume off by more than 15 % is told of where the radius holds. Poses that
hold either way are counted only, but with --all. A dash stands for what could
not be measured: a volume of 0 or less or more than threefold, or skin that
turns by more than 180 degrees in a tenth of the bone.

It weighs numbers of segments against one another, for linear-blend and for
dual-quaternion skinning, and looks at knees and elbows: how far any clip has
them turn off their hinge (clean: twist and side-bend within 5 degrees) or back
past rest (told of beyond 5 degrees), and how deep skin lies in skin when closed.

With -o it writes a folder:

  check.html              all of it on one page, with pictures
  check-1.png, …          the pictures of the limbs, before and after
  bones.svg, .png, .csv   radius and twist along the bones
  segments.svg, .png, .csv  what is lost over the number of segments

With --json it prints, null standing for what was not measured:

  limbs       each with its range of motion as assumed (hip, shoulder, wrist,
              limits or none), the field it bends by (shortest, centred, least_roll or balanced),
              its clips' greatest twist and the segments that are enough
  poses       kind range, twist or clip; one_joint and split; clip and time_s
              for moments of clips
  tradeoff    what 1 to 5 segments leave of each limb at a twist of 90 degrees
  hinges      knees and elbows, clip by clip
  folds       how deep skin lies in skin at closed hinges
  excursions  clips that leave a range of motion
  remarks, warnings, verdict, advice, files   as printed

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
			o.Limbs, o.Basis = limbs.Limbs, basis
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
	flags.BoolVar(&all, "all", false, "list the poses that hold either way too")
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
