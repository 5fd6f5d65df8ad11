package main

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"github.com/pronate/pronate/internal/check"
	"github.com/pronate/pronate/internal/printable"
	"github.com/pronate/pronate/internal/report"
)

// printCheck prints the findings for a person; all with the poses in which little
// changes.
func printCheck(w io.Writer, f *check.Findings, all bool) {
	fmt.Fprintf(w, "%s\n%s\n", f.ClipsVerdict, f.SyntheticVerdict)
	for _, l := range f.NotSplit {
		fmt.Fprintf(w, "not split: %s: %s\n", printable.Text(l.Limb), printable.Text(l.Reason))
	}
	if len(f.Limbs) > 0 {
		printPoses(w, f, all)
		printTradeoff(w, f)
		printAssumed(w, f)
	}
	printHinges(w, f)
	printFolds(w, f)
	printExcursions(w, f.Beyond)
	if notes := slices.Concat(f.Warnings, f.Remarks); len(notes) > 0 {
		fmt.Fprintln(w)
		for _, note := range notes {
			fmt.Fprintf(w, "note: %s\n", printable.Text(note))
		}
	}
	fmt.Fprintln(w, "\nwhat to do next:")
	for _, advice := range f.Advice {
		fmt.Fprintf(w, "  %s\n", printable.Text(advice.Text))
	}
	fmt.Fprintln(w)
}

// printTradeoff lists what numbers of segments leave.
func printTradeoff(w io.Writer, f *check.Findings) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\nlimb\ttwist\tsegments\tminimum radius\tvolume\tminimum radius, dual quaternions")
	for _, c := range f.Tradeoff {
		fmt.Fprintf(table, "%s\t%.0f°\t%s\t%s\t%s\t%s\n", printable.Text(c.Limb), c.Twist, segmentsName(c.Segments), partLeft(c.Radius), partLeft(c.Volume), partLeft(c.DualRadius))
	}
	table.Flush()
}

// mostBetter is how many poses of a limb are listed that are better.
const mostBetter = 3

// printPoses lists moments of clips and, limb by limb, the poses that the check makes.
func printPoses(w io.Writer, f *check.Findings, all bool) {
	width := len("pose")
	for _, p := range f.Poses {
		width = max(width, utf8.RuneCountInString(printable.Text(p.Name)))
	}
	list := func(title string, belongs func(check.Pose) bool) {
		var poses []check.Pose
		for _, p := range f.Poses {
			if belongs(p) {
				poses = append(poses, p)
			}
		}
		if len(poses) == 0 {
			return
		}
		fmt.Fprintf(w, "\n%s\n", printable.Text(title))
		shown := poses
		if !all {
			shown = telling(poses)
		}
		for _, p := range shown {
			text := p.Verdict
			if p.Kind == check.Clip {
				text += "; " + p.Moment
			}
			fmt.Fprintf(w, "  %-*s  %8s / %8s  %7s / %7s  %7s / %7s  %s\n", width, printable.Text(p.Name),
				strainOf(p.Before.Strain), strainOf(p.After.Strain), partLeft(p.Before.Radius), partLeft(p.After.Radius), partLeft(p.Before.Volume), partLeft(p.After.Volume), text)
		}
		if len(shown) < len(poses) {
			counts := map[check.Outcome]int{}
			for _, p := range poses {
				counts[p.Outcome]++
			}
			for _, p := range shown {
				counts[p.Outcome]--
			}
			var more []string
			for _, o := range []check.Outcome{check.Better, check.Same} {
				if n := counts[o]; n > 0 {
					more = append(more, fmt.Sprintf("%d %s", n, o))
				}
			}
			fmt.Fprintf(w, "  not listed: %s\n", strings.Join(more, ", "))
		}
	}
	fmt.Fprintf(w, "\n  %-*s  %-19s  %-17s  volume\n", width, "source / split:", "strain of all skin", "minimum radius")
	for _, l := range f.Limbs {
		list("clips: "+l.Name, func(p check.Pose) bool { return p.Kind == check.Clip && p.Limb == l.Name })
	}
	for _, l := range f.Limbs {
		list("synthetic poses: "+l.Name, func(p check.Pose) bool { return p.Kind != check.Clip && p.Limb == l.Name })
	}
}

// telling are the poses that are worse, and of those that are better the best; in
// their order.
func telling(poses []check.Pose) (out []check.Pose) {
	var better []check.Pose
	for _, p := range poses {
		if p.Outcome == check.Better {
			better = append(better, p)
		}
	}
	slices.SortStableFunc(better, func(a, b check.Pose) int { return cmp.Compare(a.Change(), b.Change()) })
	better = better[:min(len(better), mostBetter)]
	for _, p := range poses {
		isBest := slices.ContainsFunc(better, func(b check.Pose) bool { return b.Number == p.Number && b.Time == p.Time })
		if isBest || p.Outcome == check.Worse || p.Outcome == check.Unmeasured {
			out = append(out, p)
		}
	}
	return out
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
	fmt.Fprintln(table, "\nlimb\tsegments\trange of motion\tfield\tgreatest twist of the clips\tat a twist of 90°: minimum radius\tvolume")
	for _, l := range f.Limbs {
		twist := "–" // no clip turns it
		if l.ClipsKeyIt {
			twist = report.Figure(l.ClipsTwist, 0) + "°"
		}
		fmt.Fprintf(table, "%s\t%d\t%s\t%s\t%s\t%s\t%s\n", printable.Text(l.Name), l.Segments, l.Range.Name, l.Field, twist, partLeft(l.RadiusAtTwist), partLeft(l.VolumeAtTwist))
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

// printFolds says how deep the skin of closed hinges intersects itself.
func printFolds(w io.Writer, f *check.Findings) {
	if len(f.Folds) == 0 {
		return
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\nself-intersection at\tflexion\tsource\tsplit\tstrain, source\tsplit")
	for _, fold := range f.Folds {
		fmt.Fprintf(table, "%s\t%.0f°\t%s\t%s\t%s\t%s\n", printable.Text(fold.Joint), fold.Flexion,
			f.Distance(fold.Before, fold.Length), f.Distance(fold.After, fold.Length), strainOf(fold.StrainBefore), strainOf(fold.StrainAfter))
	}
	table.Flush()
}

// strainOf writes a strain, in per cent.
func strainOf(strain float64) string {
	if text := report.Figure(100*strain, 3); !math.IsNaN(strain) {
		return text + " %"
	}
	return "–"
}
