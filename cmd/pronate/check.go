package main

import (
	"fmt"
	"io"
	"path/filepath"
	"text/tabwriter"

	"github.com/pronate/pronate/internal/check"
	"github.com/pronate/pronate/internal/printable"
	"github.com/pronate/pronate/internal/report"
	"github.com/spf13/cobra"
)

func newCheck() *cobra.Command {
	var folder, limbs, weights string
	var influences int
	var asJSON bool
	c := &cobra.Command{
		Use:   "check IN",
		Short: "Show what a character's skin loses, one joint a bone against segments",
		Long: `Check reads a .glb or .gltf character ("-" for standard input) that has not been
split, puts its limbs through a series of twists, the corners of their ranges of
motion and the worst moment of every clip, and measures what is left of them,
with one joint a bone and split: the radius of the narrowest section and the
volume between the ends of the bone, as parts of what they are at rest.

It weighs numbers of segments against one another, for linear-blend and for
dual-quaternion skinning, and looks at knees and elbows: how far any clip has
them turn off their hinge.

With -o it writes a folder:

  check.html              all of it on one page, with pictures
  check-1.png, …          the pictures of the limbs, before and after
  bones.svg, .png, .csv   radius and twist along the bones
  segments.svg, .png, .csv  what is lost over the number of segments

Ranges of motion are for animation; they are no clinical advice.`,
		Example: `  pronate check character.glb -o check
  pronate check character.glb --limbs limbs.yaml --json`,
		Args:              oneCharacter,
		ValidArgsFunction: completeCharacter,
		RunE: func(c *cobra.Command, args []string) error {
			o := check.Options{Influences: influences}
			var err error
			if o.Basis, err = basis(weights); err != nil {
				return err
			}
			if err := checkInfluences(influences); err != nil {
				return err
			}
			if o.Limbs, err = readLimbs(c, limbs, args[0]); err != nil {
				return err
			}
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
			printCheck(c.OutOrStdout(), found)
			for _, path := range written {
				fmt.Fprintf(c.OutOrStdout(), "written: %s\n", printable.Text(path))
			}
			return nil
		},
	}
	flags := c.Flags()
	flags.StringVarP(&folder, "output", "o", "", "a folder to write the page, pictures and figures into")
	flags.StringVar(&limbs, "limbs", "", "limb file that says what to split, - for standard input (default: what detect proposes)")
	flags.StringVar(&weights, "weights", "quadratic", "how weights hand over along a bone: quadratic, hat or cubic")
	flags.IntVar(&influences, "influences", 4, "the most joints that may move a vertex: 4 or 8")
	flags.BoolVar(&asJSON, "json", false, "print the figures as JSON")
	must(c.MarkFlagDirname("output"), c.MarkFlagFilename("limbs", limbFiles...), completeSkinFlags(c))
	return c
}

// checkReport is what check prints as JSON.
type checkReport struct {
	*check.Findings
	Files []string `json:"files,omitempty"`
}

// printCheck prints the findings for a person.
func printCheck(w io.Writer, f *check.Findings) {
	fmt.Fprintf(w, "%s\n\n", f.Verdict)
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "limb\tpose\tradius, one joint\tsplit\tvolume, one joint\tsplit\tverdict")
	for _, p := range f.Poses {
		fmt.Fprintf(table, "%s\t%s\t%.1f %%\t%.1f %%\t%.1f %%\t%.1f %%\t%s\n", printable.Text(p.Limb), printable.Text(p.Name),
			100*p.Before.Radius, 100*p.After.Radius, 100*p.Before.Volume, 100*p.After.Volume, p.Verdict)
	}
	table.Flush()
	fmt.Fprintln(w)
	fmt.Fprintln(table, "limb\ttwist\tsegments\tleast radius\tvolume\tleast radius, dual quaternions")
	for _, c := range f.Tradeoff {
		fmt.Fprintf(table, "%s\t%.0f°\t%s\t%.1f %%\t%.1f %%\t%.1f %%\n", printable.Text(c.Limb), c.Twist, segmentsName(c.Segments), 100*c.Radius, 100*c.Volume, 100*c.DualRadius)
	}
	table.Flush()
	printHinges(w, f)
	printFolds(w, f)
	printExcursions(w, f.Beyond)
	for _, warning := range f.Warnings {
		fmt.Fprintf(w, "\nmind: %s\n", printable.Text(warning))
	}
	fmt.Fprintln(w, "\nwhat to do next:")
	for _, advice := range f.Advice {
		fmt.Fprintf(w, "  %s\n", printable.Text(advice))
	}
	fmt.Fprintln(w)
}

// printHinges lists the clips that turn a knee or an elbow off its hinge.
func printHinges(w io.Writer, f *check.Findings) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	looked, off := 0, 0
	for _, h := range f.Hinges {
		for _, clip := range h.Clips {
			looked++
			if clip.Clean {
				continue
			}
			if off++; off == 1 {
				fmt.Fprintln(table, "\noff its hinge\tclip\ttwist\tat\tside-bend\tat")
			}
			fmt.Fprintf(table, "%s\t%s\t%.1f°\t%.2f s\t%.1f°\t%.2f s\n", printable.Text(h.Joint), printable.Text(clip.Clip), clip.Twist, clip.TwistTime, clip.SideBend, clip.SideBendTime)
		}
	}
	table.Flush()
	if looked > 0 && off == 0 {
		fmt.Fprintf(w, "\nknees and elbows: %d, all clean\n", len(f.Hinges))
	}
}

// printFolds says how deep closed hinges lie in themselves.
func printFolds(w io.Writer, f *check.Findings) {
	if len(f.Folds) == 0 {
		return
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\nskin in skin at\tflexion\tone joint\tsplit")
	for _, fold := range f.Folds {
		fmt.Fprintf(table, "%s\t%.0f°\t%.1f mm\t%.1f mm\n", printable.Text(fold.Joint), fold.Flexion, 1000*fold.Before, 1000*fold.After)
	}
	table.Flush()
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
