package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"text/tabwriter"
	"unicode/utf8"

	"github.com/pronate/pronate/internal/check"
	"github.com/pronate/pronate/internal/printable"
	"github.com/pronate/pronate/internal/report"
)

// printCheck prints the findings for a person; all with the poses that need no
// looking at.
func printCheck(w io.Writer, f *check.Findings, all bool) {
	fmt.Fprintf(w, "%s\n", f.Verdict)
	printPoses(w, f, all)
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\nlimb\ttwist\tsegments\tleast radius\tvolume\tleast radius, dual quaternions")
	for _, c := range f.Tradeoff {
		fmt.Fprintf(table, "%s\t%.0f°\t%s\t%s\t%s\t%s\n", printable.Text(c.Limb), c.Twist, segmentsName(c.Segments), partLeft(c.Radius), partLeft(c.Volume), partLeft(c.DualRadius))
	}
	table.Flush()
	printAssumed(w, f)
	printHinges(w, f)
	printFolds(w, f)
	printExcursions(w, f.Beyond)
	if minds := slices.Concat(f.Warnings, f.Remarks); len(minds) > 0 {
		fmt.Fprintln(w)
		for _, mind := range minds {
			fmt.Fprintf(w, "mind: %s\n", printable.Text(mind))
		}
	}
	fmt.Fprintln(w, "\nwhat to do next:")
	for _, advice := range f.Advice {
		fmt.Fprintf(w, "  %s\n", printable.Text(advice))
	}
	fmt.Fprintln(w)
}

// printPoses lists the poses limb by limb.
func printPoses(w io.Writer, f *check.Findings, all bool) {
	const radius, volume = "radius, one joint / split", "volume, one joint / split"
	width := len("pose")
	for _, p := range f.Poses {
		width = max(width, utf8.RuneCountInString(printable.Text(p.Name)))
	}
	fmt.Fprintf(w, "\n  %-*s  %s  %s  verdict\n", width, "pose", radius, volume)
	pair := func(before, after float64) string { return fmt.Sprintf("%7s / %7s", partLeft(before), partLeft(after)) }
	for _, l := range f.Limbs {
		fmt.Fprintf(w, "\n%s\n", printable.Text(l.Name))
		quiet := 0
		for _, p := range f.Poses {
			switch {
			case p.Limb != l.Name:
			case p.HoldsEitherWay() && !all:
				quiet++
			default:
				fmt.Fprintf(w, "  %-*s  %-*s  %-*s  %s\n", width, printable.Text(p.Name),
					len(radius), pair(p.Before.Radius, p.After.Radius), len(volume), pair(p.Before.Volume, p.After.Volume), p.Verdict)
			}
		}
		switch {
		case quiet == 1:
			fmt.Fprintln(w, "  1 pose holds either way")
		case quiet > 1:
			fmt.Fprintf(w, "  %d poses hold either way\n", quiet)
		}
	}
}

// partLeft is what is left of something, in per cent.
func partLeft(part float64) string {
	text := report.Figure(100*part, 1)
	if math.IsNaN(part) {
		return text
	}
	return text + " %"
}

// printAssumed says what was assumed of the limbs, and what their clips ask for.
func printAssumed(w io.Writer, f *check.Findings) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\nlimb\tsegments\trange of motion\tfield\tgreatest twist of the clips")
	for _, l := range f.Limbs {
		twist := "–" // no clip turns it
		if l.ClipsKeyIt {
			twist = report.Figure(l.ClipsTwist, 0) + "°"
		}
		fmt.Fprintf(table, "%s\t%d\t%s\t%s\t%s\n", printable.Text(l.Name), l.Segments, l.Range.Name, l.Field, twist)
	}
	table.Flush()
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
			fmt.Fprintf(table, "%s\t%s\t%s°\t%.2f s\t%s°\t%.2f s\n", printable.Text(h.Joint), printable.Text(clip.Clip),
				report.Figure(clip.TwistDeg, 1), clip.TwistTime, report.Figure(clip.SideBendDeg, 1), clip.SideBendTime)
		}
	}
	table.Flush()
	if looked > 0 && off == 0 {
		fmt.Fprintf(w, "\nknees and elbows: %d, all clean (twist and side-bend within 5 degrees)\n", len(f.Hinges))
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
		fmt.Fprintf(table, "%s\t%.0f°\t%s\t%s\n", printable.Text(fold.Joint), fold.Flexion, f.Distance(fold.Before, fold.Length), f.Distance(fold.After, fold.Length))
	}
	table.Flush()
}
