package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/printable"
)

// printReport prints a report for a person, of a split with the default
// tolerance.
func printReport(w io.Writer, r asset.Report) {
	printSplit(w, r, asset.DefaultTolerance*180/math.Pi)
}

// printSplit prints the report of a split with a tolerance, in degrees.
func printSplit(w io.Writer, r asset.Report, tolerance float64) {
	if len(r.Limbs) == 0 {
		fmt.Fprintln(w, "no limb is split: the output is the source")
		printChoices(w, r.Choices)
		return
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "limb\tjoint\tend\tlength\tsegments\tfield\tgreatest twist\tvertices\tweight moved")
	moved := false
	for _, l := range r.Limbs {
		twist := "–" // no clip turns it
		if l.IsKeyed() {
			twist = fixed(l.TwistMaxDeg, 0) + " degrees"
		}
		moved = moved || l.WeightMovedMax >= 5e-4 // what is not shown as 0.0 %
		fmt.Fprintf(table, "%s\t%s\t%s\t%.3f m\t%d\t%s\t%s\t%d\t%s %%\n", printable.Text(l.Name), printable.Text(l.Joint), printable.Text(l.End), l.Length, len(l.Segments), l.Field, twist, l.Vertices, fixed(100*l.WeightMovedMax, 1))
	}
	table.Flush()
	if moved {
		fmt.Fprintln(w, "weight moved: how much of a vertex's weight, at most, moved from the segments that should have it to others, for want of influences")
	}
	printChoices(w, r.Choices)
	if len(r.Clips) > 0 {
		fmt.Fprintln(w)
		fmt.Fprintln(table, "clip\tkeys of the limb's joints\tkeys added\tfarthest from the solver")
		for _, clip := range r.Clips {
			fmt.Fprintf(table, "%s\t%d\t%d\t%.2g degrees\n", printable.Text(clip.Name), clip.KeysIn, clip.KeysOut, clip.ErrorMaxDeg)
		}
		table.Flush()
	}
	printLive(w, r.Limbs)
	printShapes(w, r)
	printExcursions(w, r.Excursions)
	printClosings(w, r.Clips, tolerance)
	fmt.Fprintf(w, "\nrest pose moved by at most %.1e of the character's height\n", r.RestErrorMax)
}

// printClosings tells of the clips whose loops had to be closed, and by how many
// degrees; not of what the bake's own tolerance covers.
func printClosings(w io.Writer, clips []asset.ClipReport, tolerance float64) {
	var closed []string
	for _, clip := range clips {
		if clip.ClosingMaxDeg > tolerance {
			closed = append(closed, fmt.Sprintf("%s %.1f degrees", printable.Text(clip.Name), clip.ClosingMaxDeg))
		}
	}
	if len(closed) > 0 {
		fmt.Fprintf(w, "\nloops closed, by taking off over the clip: %s\n", strings.Join(closed, ", "))
	}
}

// printExcursions lists where clips leave a joint's range of motion, as they
// are sorted: the farthest first.
func printExcursions(w io.Writer, excursions []asset.Excursion) {
	if len(excursions) == 0 {
		return
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\nleaves its range of motion\tjoint\tin clip\tby\tat\tflexion\tabduction")
	for _, e := range excursions {
		fmt.Fprintf(table, "%s\t%s\t%s\t%.1f°\t%.2f s\t%s°\t%s°\n", printable.Text(e.Limb), printable.Text(e.Joint), printable.Text(e.Clip), e.BeyondDeg, e.Time, fixed(e.FlexionDeg, 0), fixed(e.AbductionDeg, 0))
	}
	table.Flush()
	fmt.Fprintln(w, "hip and shoulder are a person's ranges, for animation; for others write limits, or range: none, in the limb file")
}

// printShapes tells of limbs that stretch and of those eased out of a fold.
func printShapes(w io.Writer, r asset.Report) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	told := false
	for _, l := range r.Limbs {
		if l.StretchMost == 0 && l.ReliefMax == 0 {
			continue
		}
		if !told {
			fmt.Fprintln(table, "\nlimb\tstretched, least and most\teased apart, at most")
			told = true
		}
		stretch, relief := "–", "–"
		if l.StretchMost != 0 {
			stretch = fmt.Sprintf("%.2f to %.2f", l.StretchLeast, l.StretchMost)
		}
		if l.ReliefMax != 0 {
			relief = fmt.Sprintf("%.1f mm", 1000*l.ReliefMax)
		}
		fmt.Fprintf(table, "%s\t%s\t%s\n", printable.Text(l.Name), stretch, relief)
	}
	table.Flush()
	for _, o := range r.OutOfReach {
		fmt.Fprintf(w, "%s does not reach %s in clip %s: %.1f mm short at %.2f s\n", printable.Text(o.Limb), printable.Text(o.Target), printable.Text(o.Clip), 1000*o.Short, o.Time)
	}
}
