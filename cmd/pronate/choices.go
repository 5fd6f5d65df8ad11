package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/printable"
)

// printChoices prints what the splits do to the skin and which limbs stay as they
// were, and why.
func printChoices(w io.Writer, choices []asset.Choice) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	head := false
	for _, c := range choices {
		if !c.Split || c.Best == nil || c.Worst == nil {
			continue
		}
		if !head {
			fmt.Fprintln(w, "\nstrain of the skin, source and split, in the poses that gain and lose most:")
			fmt.Fprintln(table, "limb\tposes\tgains most\tsource\tsplit\tloses most\tsource\tsplit")
			head = true
		}
		fmt.Fprintf(table, "%s\t%d\t%s\t%.3f %%\t%.3f %%\t%s\t%.3f %%\t%.3f %%\n", printable.Text(c.Limb), c.Poses,
			printable.Text(c.Best.Pose), 100*c.Best.Source, 100*c.Best.Split, printable.Text(c.Worst.Pose), 100*c.Worst.Source, 100*c.Worst.Split)
	}
	table.Flush()
	for _, c := range choices {
		switch {
		case !c.Split:
			fmt.Fprintf(w, "not split: %s: %s\n", printable.Text(c.Limb), printable.Text(c.Reason))
		case c.Best == nil || c.Worst == nil || c.IsWorse():
			fmt.Fprintf(w, "note: %s: %s\n", printable.Text(c.Limb), printable.Text(c.Reason))
		}
		if len(c.Left) > 0 {
			fmt.Fprintf(w, "left as it was: %s: %d pieces of the skin (--json names them): split, they would be strained more\n", printable.Text(c.Limb), len(c.Left))
		}
	}
}
