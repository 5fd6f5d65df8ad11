package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/printable"
)

// printReport prints a report for a person.
func printReport(w io.Writer, r asset.Report) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "limb\tjoint\tend\tlength\tsegments\tgreatest twist\tvertices\tshare of a vertex's weight out of place, at most")
	for _, l := range r.Limbs {
		fmt.Fprintf(table, "%s\t%s\t%s\t%.3f m\t%d\t%.0f degrees\t%d\t%.2g\n", printable.Text(l.Name), printable.Text(l.Joint), printable.Text(l.End), l.Length, len(l.Segments), l.TwistMax, l.Vertices, l.DroppedWeightMax)
	}
	table.Flush()
	if len(r.Clips) > 0 {
		fmt.Fprintln(w)
		fmt.Fprintln(table, "clip\tkeys of the limb's joints\tkeys added\tfarthest from the solver")
		for _, clip := range r.Clips {
			fmt.Fprintf(table, "%s\t%d\t%d\t%.2g degrees\n", printable.Text(clip.Name), clip.KeysIn, clip.KeysOut, clip.ErrorMax)
		}
		table.Flush()
	}
	printShapes(w, r)
	printExcursions(w, r.Excursions)
	if closing := closingMax(r); closing > 0 {
		fmt.Fprintf(w, "\nloops were closed by taking off up to %.1f degrees over a clip\n", closing)
	}
	fmt.Fprintf(w, "\nrest pose moved by at most %.1e of the character's height\n", r.RestErrorMax)
}

// closingMax is the most that any loop's history was off by, in degrees.
func closingMax(r asset.Report) (most float64) {
	for _, clip := range r.Clips {
		most = max(most, clip.ClosingMax)
	}
	return most
}

// printExcursions lists where clips leave a joint's range of motion.
func printExcursions(w io.Writer, excursions []asset.Excursion) {
	if len(excursions) == 0 {
		return
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\nleaves its range of motion\tjoint\tin clip\tby\tat\tflexion\tabduction")
	for _, e := range excursions {
		fmt.Fprintf(table, "%s\t%s\t%s\t%.1f°\t%.2f s\t%.0f°\t%.0f°\n", printable.Text(e.Limb), printable.Text(e.Joint), printable.Text(e.Clip), e.Beyond, e.Time, e.Flexion, e.Abduction)
	}
	table.Flush()
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
