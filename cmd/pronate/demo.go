package main

import (
	"fmt"
	"path/filepath"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/page"
	"github.com/pronate/pronate/internal/printable"
	"github.com/pronate/pronate/internal/report"
	"github.com/spf13/cobra"
)

func newDemo() *cobra.Command {
	var folder string
	var asJSON bool
	var inBrowser pageFlags
	c := &cobra.Command{
		Use:   "demo",
		Short: "Make a character, split her and show what got better",
		Long: `Demo makes Wren, a climber, as a skinned glTF character with clips; splits her
limbs with the default settings; and writes into a folder:

  wren.glb          the source, one deform joint per bone
  wren-limbs.yaml   what detect proposes for her: the limb file that is split
  wren-split.glb    the split character: same clips, same rest pose
  summary.html      one page with pictures and figures; open it in a browser
  summary.png       the pictures alone
  roll.png, .svg    roll, and twist at the root, with each field of swings

With --page it writes nothing. It serves a page on which she, or a character of
yours, is turned by hand, with one joint per bone or segments, and prints where to
open it. It is served to this machine alone, and characters loaded there do not
leave the browser.`,
		Example: `  pronate demo
  pronate demo -o somewhere
  pronate demo --page`,
		Args:              noArguments,
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := inBrowser.check(c); err != nil {
				return err
			}
			if inBrowser.asked {
				return servePage(c.Context(), c.OutOrStdout(), page.FS(), inBrowser.port)
			}
			if err := checkFolder(folder); err != nil { // before she is made, which takes a while
				return err
			}
			made, err := makeDemo()
			if err != nil {
				return err
			}
			written, err := writeAll(folder, made.files)
			if err != nil {
				return err
			}
			if asJSON {
				return printJSON(c, demoReport{made.report, made.changes, written})
			}
			out := c.OutOrStdout()
			printReport(out, made.report)
			fmt.Fprintln(out, "\narea of skin compressed by more than a fifth, at the moment of each clip that gains most:")
			for _, change := range made.changes {
				fmt.Fprintf(out, "  %-15s at %.2f s: %4.0f cm² with one joint per bone, %4.0f cm² split\n", change.Clip, change.Time, change.Before*1e4, change.After*1e4)
			}
			fmt.Fprintln(out)
			for _, path := range written {
				fmt.Fprintf(out, "written: %s\n", printable.Text(path))
			}
			fmt.Fprintf(out, "\nNext: open %s in a browser, and drop %s into any glTF viewer.\n",
				printable.Text(filepath.Join(folder, "summary.html")), printable.Text(filepath.Join(folder, "wren-split.glb")))
			return nil
		},
	}
	c.Flags().StringVarP(&folder, "output", "o", "pronate-demo", "the folder to write into")
	c.Flags().BoolVar(&asJSON, "json", false, "print the report as JSON")
	inBrowser.add(c)
	must(c.MarkFlagDirname("output"))
	return c
}

// demoReport is what demo prints as JSON: the split's report, the areas of
// squeezed skin by clip and the files written.
type demoReport struct {
	asset.Report
	Squeezed []report.Change `json:"squeezed"`
	Files    []string        `json:"files"`
}

// madeDemo is the demo's result, before any of it is written.
type madeDemo struct {
	report  asset.Report
	changes []report.Change
	files   []namedFile
}

func makeDemo() (madeDemo, error) {
	var d madeDemo
	wren, err := demo.Wren()
	if err != nil {
		return d, err
	}
	source, err := asset.Decode("wren.glb", wren, nil)
	if err != nil {
		return d, err
	}
	limbs, err := asset.Detect(source)
	if err != nil {
		return d, err
	}
	split, splitReport, err := asset.Split(source, asset.Options{Limbs: limbs.Limbs})
	if err != nil {
		return d, err
	}
	d.report = splitReport
	encoded, err := split.Encode(true, false)
	if err != nil {
		return d, err
	}
	summary, err := summarise(source, split, splitReport)
	if err != nil {
		return d, err
	}
	d.changes = summary.Changes
	rolls, rollsSVG, err := pictureRolls(source, limbs)
	if err != nil {
		return d, err
	}
	summary.Rolls = rolls
	page, err := summary.HTML()
	if err != nil {
		return d, err
	}
	d.files = []namedFile{
		{"wren.glb", wren},
		{"wren-limbs.yaml", limbs.YAML()},
		{"wren-split.glb", encoded},
		{"summary.html", page},
		{"summary.png", summary.Picture.Light},
		{"roll.png", rolls.Light},
		{"roll.svg", rollsSVG},
	}
	return d, nil
}

// pictureTwists draws those limbs turned about their own length that are split.
func pictureTwists(before, after *asset.Evaluator, split asset.Report) (report.Picture, error) {
	var shots []report.TwistShot
	for _, twisted := range demo.TwistedLimbs() {
		for _, l := range split.Limbs {
			if l.Joint == twisted.Bone[0] {
				twisted.Joints = l.Segments
				shots = append(shots, twisted)
			}
		}
	}
	picture, err := report.DrawTwists(before, after, shots)
	picture.Text = "Wren's thigh and upper arm, each turned out about its own length, on the left with one joint per bone, on the right with segments, with stripes and rings on the skin. " +
		"On the left the stripes are pinched where the limb meets the body, and the skin there is coloured as compressed. On the right they run as an even spiral along the limb."
	return picture, err
}

// summarise looks at both characters and writes the page about them.
func summarise(source, split *asset.File, splitReport asset.Report) (report.Summary, error) {
	before, err := source.Evaluator()
	if err != nil {
		return report.Summary{}, err
	}
	after, err := split.Evaluator()
	if err != nil {
		return report.Summary{}, err
	}
	triangles, err := before.Triangles()
	if err != nil {
		return report.Summary{}, err
	}
	s := report.Summary{
		Title: "Wren, before and after",
		Lead: "Wren climbs: she reaches overhead, steps high with the hip swayed out and turns her forearms on holds. " +
			"With one deform joint per bone all of a limb's twist is at one place, and the skin creases there. " +
			"Split into segments, each limb distributes its twist along its whole length.",
		Changes: report.Changes(before, after, triangles),
		Report:  splitReport,
		Next: []report.Step{
			{Command: "pronate detect character.glb > limbs.yaml", Why: "what would be split in a character of yours"},
			{Command: "pronate split character.glb --limbs limbs.yaml -o character-split.glb", Why: "split it"},
			{Command: "pronate check character.glb -o check", Why: "measure what it loses, what the segments gain, and what still fails"},
			{Command: "pronate plan --twist 90 --loss 0.05", Why: "how many segments a limb needs, by formula"},
		},
	}
	s.Picture, err = pictureTwists(before, after, splitReport)
	return s, err
}
