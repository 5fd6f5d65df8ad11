package main

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
	"unicode"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/sweep"
	"github.com/pronate/pronate/internal/printable"
	"github.com/pronate/pronate/internal/report"
	"github.com/spf13/cobra"
	"gonum.org/v1/gonum/spatial/r3"
)

// Ranges that have a name, for a body whose limbs hang along -Y, that faces +Z
// and has its left along +X.
var namedRanges = []struct {
	name   string
	motion func(down, forward, out r3.Vec) sweep.Motion
	axes   report.Axes
}{
	{"hip", sweep.Hip, report.Axes{Flexion: "extension  –  flexion, degrees", Abduction: "adduction  –  abduction, degrees"}},
	{"shoulder", sweep.Shoulder, report.Axes{Flexion: "extension  –  flexion, degrees", Abduction: "adduction  –  abduction, degrees"}},
	{"wrist", sweep.Wrist, report.Axes{Flexion: "extension  –  flexion, degrees", Abduction: "ulnar  –  radial deviation, degrees"}},
}

func newSweep() *cobra.Command {
	var file, folder string
	var asJSON bool
	c := &cobra.Command{
		Use:   "sweep (hip | shoulder | wrist | --range FILE)",
		Short: "Measure how a limb rolls over a joint's range of motion",
		Long: `Sweep moves a limb over its joint's range of motion in steps of a degree, once
for each field of swings, and measures by how much its root segment rolls about
the bone, in degrees per degree of sway (in JSON radians per radian, which is the
same number):

  shortest    the shortest arc from the direction at rest
  centred     the shortest arcs by way of the middle of the range
  least_roll  the field that rolls least, in the mean square
  balanced    close to the shortest arc from rest, where that is well defined, and
              with little roll where it is not; split's default

Roll is what the motion adds. It is not the twist of the skin at the root in a
pose, which is least with the shortest arc: least_roll and centred pay for little
roll with twist at the root.

Some ranges, such as those that nearly close to a ring, have no field of the last
two; the others are still measured.

"over the bound" is the worst as a multiple of area/perimeter of the range, below
which no field stays on average along the edge. A flip is a place where segments
jump from one degree to the next. Where the direction opposite to rest lies in the
range, the roll of the shortest arc next to it has no bound, which is null in JSON.
With -o it draws maps of the roll.

A range file is YAML:

  name: stiff hip
  flexion_deg: [-10, 90]      # extension is negative
  abduction_deg: [-20, 30]    # adduction is negative
  rest_deg: [0, 10]           # where the limb is at rest; left out: hanging

Ranges are for animation, from published mean values (AAOS) that differ from
others by 5 to 20 degrees; they are no clinical advice.`,
		Example: `  pronate sweep hip -o maps
  pronate sweep --range range.yaml --json`,
		Args:      atMostOne("range"),
		ValidArgs: []cobra.Completion{"hip", "shoulder", "wrist"},
		RunE: func(c *cobra.Command, args []string) error {
			s, err := sweepOf(c, args, file)
			if err != nil {
				return err
			}
			if err := checkFolder(folder); err != nil {
				return err
			}
			if err := s.measure(); err != nil {
				return err
			}
			var written []string
			if folder != "" {
				if written, err = s.draw(folder); err != nil {
					return err
				}
			}
			if asJSON {
				return printJSON(c, s.report(written))
			}
			s.print(c.OutOrStdout())
			for _, path := range written {
				fmt.Fprintf(c.OutOrStdout(), "written: %s\n", printable.Text(path))
			}
			return nil
		},
	}
	c.Flags().StringVar(&file, "range", "", "a range file, - for standard input")
	c.Flags().StringVarP(&folder, "output", "o", "", "a folder to write maps into, as SVG and PNG")
	c.Flags().BoolVar(&asJSON, "json", false, "print the figures as JSON")
	must(c.MarkFlagFilename("range", limbFiles...), c.MarkFlagDirname("output"))
	return c
}

// swept is one sweep: a range, how to draw it, and what was found.
type swept struct {
	name   string
	file   string // the range file, where there is one
	motion sweep.Motion
	rest   sweep.Place
	axes   report.Axes
	found  sweep.Comparison
}

// sweepOf reads which range is swept.
func sweepOf(c *cobra.Command, args []string, file string) (swept, error) {
	down, forward, out := r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{X: 1}
	switch {
	case file != "" && len(args) > 0:
		return swept{}, usagef("sweep takes a range's name or --range FILE, found both")
	case file == "" && len(args) == 0:
		return swept{}, usagef("sweep needs a range: hip, shoulder, wrist or --range FILE")
	case file == "":
		for _, r := range namedRanges {
			if r.name == args[0] {
				return swept{name: r.name, motion: r.motion(down, forward, out), axes: r.axes}, nil
			}
		}
		return swept{}, usagef("%q is no range: expected hip, shoulder, wrist or --range FILE", args[0])
	}
	data, err := read(c, file)
	if err != nil {
		return swept{}, err
	}
	if file == standard {
		file = "standard input"
	}
	parsed, err := asset.ParseRange(file, data)
	if err != nil {
		return swept{}, err
	}
	radians := func(degrees [2]float64) [2]float64 {
		return [2]float64{degrees[0] * math.Pi / 180, degrees[1] * math.Pi / 180}
	}
	rest := radians(parsed.RestDeg)
	return swept{
		name: parsed.Name,
		file: file,
		motion: sweep.Motion{Range: chain.Range{
			Flexion: radians(parsed.Range.FlexionDeg), Abduction: radians(parsed.Range.AbductionDeg),
			Down: down, Forward: forward, Out: out,
		}},
		rest: sweep.Place{Flexion: rest[0], Abduction: rest[1]},
		axes: namedRanges[0].axes,
	}, nil
}

func (s *swept) measure() (err error) {
	s.found, err = sweep.Compare(s.motion, sweep.Options{Axis: s.motion.Direction(s.rest.Flexion, s.rest.Abduction)})
	if err != nil {
		return fmt.Errorf("%s: flexion_deg and abduction_deg: %s", printable.Text(cmp.Or(s.file, s.name)), ownWords(err))
	}
	return nil
}

// ownWords are an error's without the names of packages and of sweep's limb.
func ownWords(err error) string {
	text := err.Error()
	for _, prefix := range []string{`chain: limb "sweep": `, "sweep: ", "swing: ", "range: "} {
		text = strings.TrimPrefix(text, prefix)
	}
	return text
}

// fields are the figures under their names, in the order they are told in.
func (s *swept) fields() []namedFigures {
	return []namedFigures{{"shortest", &s.found.Shortest}, {"centred", &s.found.Centred}, {"least_roll", &s.found.LeastRoll}, {"balanced", &s.found.Balanced}}
}

type namedFigures struct {
	name string
	*sweep.Figures
}

// print prints the figures for a rigger.
func (s *swept) print(w io.Writer) {
	m := s.motion.Range
	fmt.Fprintf(w, "%s: flexion %g to %g, abduction %g to %g degrees\n\n", printable.Text(s.name),
		tenths(m.Flexion[0]), tenths(m.Flexion[1]), tenths(m.Abduction[0]), tenths(m.Abduction[1]))
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "field\tworst roll, degrees per degree of sway\tat flexion\tat abduction\troot mean square\tworst over the bound\tflips")
	for _, f := range s.fields() {
		if f.None != nil {
			fmt.Fprintf(table, "%s\tnone\n", f.name)
			continue
		}
		worst, rms, ratio := fmt.Sprintf("%.2f", f.Worst), fmt.Sprintf("%.2f", f.RMS), fmt.Sprintf("%.1f", f.Ratio)
		if f.Unbounded {
			worst, rms, ratio = "no bound", "no bound", "no bound"
		}
		fmt.Fprintf(table, "%s\t%s\t%g\t%g\t%s\t%s\t%d\n", f.name, worst, tenths(f.WorstAt.Flexion), tenths(f.WorstAt.Abduction), rms, ratio, len(f.Flips))
	}
	table.Flush()
	for _, f := range s.fields() {
		if f.None != nil {
			fmt.Fprintf(w, "\n%s: %s\n", f.name, printable.Text(ownWords(f.None)))
		}
	}
	fmt.Fprintf(w, "\nthe bound, area/perimeter: %.3f; centre of the range: flexion %g, abduction %g\n", s.found.Bound,
		tenths(s.found.Centred.CentreAt.Flexion), tenths(s.found.Centred.CentreAt.Abduction))
}

// tenths is an angle in degrees, to a tenth.
func tenths(radians float64) float64 { return math.Round(radians*1800/math.Pi)/10 + 0 }

// draw writes the maps.
func (s *swept) draw(folder string) ([]string, error) {
	var maps []report.RollMap
	for _, f := range s.fields() {
		if f.None != nil {
			continue
		}
		title := fmt.Sprintf("%s, %s: worst %.2f, root mean square %.2f", s.name, f.name, f.Worst, f.RMS)
		if f.Unbounded {
			title = fmt.Sprintf("%s, %s: without bound at flexion %g, abduction %g", s.name, f.name, tenths(f.WorstAt.Flexion), tenths(f.WorstAt.Abduction))
		}
		maps = append(maps, report.RollMap{Title: printable.Text(title), Map: f.Map, Rest: s.rest, Centre: f.CentreAt, Worst: f.WorstAt})
	}
	plots, err := report.PlotRollMaps(maps, s.axes, report.Light)
	if err != nil {
		return nil, err
	}
	return writeFigure(folder, fileName(s.name)+"-roll", plots, nil)
}

// fileName makes a file's name of a range's: letters and digits with dashes
// between.
func fileName(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) == 0 {
		return "range"
	}
	return strings.Join(words, "-")
}
