package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/pronate/pronate/chain/asset"
)

// printReport prints a report for a person.
func printReport(w io.Writer, r asset.Report) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "limb\tjoint\tend\tlength\tsegments\tgreatest twist\tvertices\tshare of a vertex's weight out of place, at most")
	for _, l := range r.Limbs {
		fmt.Fprintf(table, "%s\t%s\t%s\t%.3f m\t%d\t%.0f degrees\t%d\t%.2g\n", printable(l.Name), printable(l.Joint), printable(l.End), l.Length, len(l.Segments), l.TwistMax, l.Vertices, l.DroppedWeightMax)
	}
	table.Flush()
	if len(r.Clips) > 0 {
		fmt.Fprintln(w)
		fmt.Fprintln(table, "clip\tkeys of the limb's joints\tkeys added\tfarthest from the solver")
		for _, clip := range r.Clips {
			fmt.Fprintf(table, "%s\t%d\t%d\t%.2g degrees\n", printable(clip.Name), clip.KeysIn, clip.KeysOut, clip.ErrorMax)
		}
		table.Flush()
	}
	fmt.Fprintf(w, "\nrest pose moved by at most %.1e of the character's height\n", r.RestErrorMax)
}
