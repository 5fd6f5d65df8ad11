package main

import (
	"fmt"
	"io"
	"slices"
	"text/tabwriter"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/printable"
	"github.com/spf13/cobra"
)

// liveFlags ask for constraints that turn the segments without a clip.
type liveFlags struct{ beside, only, nearest bool }

func (f *liveFlags) register(c *cobra.Command) {
	flags := c.Flags()
	flags.BoolVar(&f.beside, "live", false, "add constraints (VRMC_node_constraint 1.0) that turn the segments without a clip")
	flags.BoolVar(&f.only, "live-only", false, "the same, and bake nothing for the limbs that have them")
	flags.BoolVar(&f.nearest, "nearest", false, "with --live: bend by the nearest centred field where constraints cannot express the limb's one")
}

func (f *liveFlags) read(options *asset.Options) error {
	switch {
	case f.only:
		options.Live = asset.LiveInsteadOfClips
	case f.beside:
		options.Live = asset.LiveBesideClips
	case f.nearest:
		return usagef("--nearest says what live constraints may stand in for, expected --live or --live-only with it")
	}
	if options.Live != asset.NotLive && options.History {
		return usagef("--live and --history: constraints know the pose of one moment alone, expected one of the two")
	}
	options.Nearest = f.nearest
	return nil
}

// printLive says which limbs have live constraints, of the others why not, and what
// of what constraints can express comes nearest to fields that are tables.
func printLive(w io.Writer, limbs []asset.LimbReport) {
	asked := slices.DeleteFunc(slices.Clone(limbs), func(l asset.LimbReport) bool { return l.Live == nil })
	if len(asked) == 0 {
		return
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\nlimb\tlive constraints")
	for _, l := range asked {
		status := "written"
		if !l.Live.Written {
			status = "none: " + printable.Text(l.Live.Why)
		}
		fmt.Fprintf(table, "%s\t%s\n", printable.Text(l.Name), status)
	}
	table.Flush()
	near := slices.DeleteFunc(asked, func(l asset.LimbReport) bool { return l.Live.Nearest == nil })
	if len(near) == 0 {
		return
	}
	fmt.Fprintln(table, "\nnearest to its own field\tis the centred one with\tover the range of motion off by\troot mean square")
	for _, l := range near {
		n := l.Live.Nearest
		fmt.Fprintf(table, "%s\tcentre: [%g, %g, %g]\t%.1f degrees at most\t%.1f degrees\n", printable.Text(l.Name), n.Centre[0], n.Centre[1], n.Centre[2], n.ErrorMaxDeg, n.ErrorRMSDeg)
	}
	table.Flush()
	if !near[0].Live.Written {
		fmt.Fprintln(w, "--nearest bends by these instead, clips too")
	}
}

// countLive says of how many limbs of a library constraints were written, where any
// were asked for.
func countLive(w io.Writer, files []fileReport) {
	var written, baked int
	for _, file := range files {
		if file.Report == nil {
			continue
		}
		for _, l := range file.Limbs {
			switch {
			case l.Live != nil && l.Live.Written:
				written++
			case l.Live != nil:
				baked++
			}
		}
	}
	if written+baked > 0 {
		fmt.Fprintf(w, "live constraints for %d limbs, none for %d (--json says why)\n", written, baked)
	}
}
