package main

import (
	"fmt"
	"math"
	"text/tabwriter"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/printable"
	"github.com/spf13/cobra"
)

func newPlan() *cobra.Command {
	twistFlag, lossFlag := decimal{such: "90"}, decimal{such: "0.05"}
	var folder string
	var asJSON bool
	c := &cobra.Command{
		Use:   "plan --twist DEG --loss FRACTION",
		Short: "How many segments a limb needs, and what they cost",
		Long: `Plan tells how many segments keep the loss of a limb's radius under a limit
when it twists, for linear-blend skinning of a round limb: a span between two
segments that twists by an angle d is narrowed to cos(d/2) at the worst, so

  spans = ceil(twist / (2 acos(1 - loss))),  segments = spans + 1.

The figures are for hat weights, which are linear between two segments; smoother
ones spread the same loss more evenly. With 2 segments it is as great as with 1,
but drawn out along the bone instead of all in one place. Every segment is one
more joint in the skeleton and in the skin, and a limb has at most 32.

Dual-quaternion skinning keeps radius and volume of a twisted limb whole, up to
half a turn a span. What segments give it is the twist shared out: without them
all of it lies in one place. With -o, plan draws loss over segments.`,
		Example: `  pronate plan --twist 90 --loss 0.05
  pronate plan --twist 90 --loss 0.05 -o plan`,
		Args:              noArguments,
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(c *cobra.Command, _ []string) error {
			degrees, loss := twistFlag.value, lossFlag.value
			if !c.Flags().Changed("twist") || !c.Flags().Changed("loss") {
				return usagef("plan needs --twist DEG and --loss FRACTION")
			}
			if !(degrees > 0 && degrees <= 360) {
				return usagef("--twist %g: expected degrees, more than 0 and at most 360", degrees)
			}
			if !(loss > 0 && loss < 1) {
				return usagef("--loss %g: expected a fraction of the radius, between 0 and 1%s", loss, fromPercent(loss))
			}
			if err := checkFolder(folder); err != nil {
				return err
			}
			twist := degrees * math.Pi / 180
			segments, err := skin.Segments(twist, loss)
			if err != nil { // with a loss and a twist that are in order, the count is past counting
				segments = math.MaxInt
			}
			if segments > chain.MaxSegments {
				return tooMany(degrees, loss, segments)
			}
			const atLeast = 5 // rows, so that there is something to weigh
			rows, err := skin.Plan(twist, loss, atLeast)
			if err != nil {
				return err
			}
			var written []string
			if folder != "" {
				if written, err = drawPlan(folder, degrees, rows); err != nil {
					return err
				}
			}
			if asJSON {
				return printJSON(c, planReport(degrees, loss, segments, rows, written))
			}
			table := tabwriter.NewWriter(c.OutOrStdout(), 0, 0, 2, ' ', 0)
			fmt.Fprintf(c.OutOrStdout(), "twist %g degrees, loss of radius %.3g %% at most\n\n", degrees, 100*loss)
			fmt.Fprintln(table, "segments\ttwist per span\tleast radius\tvolume\twith dual quaternions\tjoints added")
			for _, row := range rows {
				mark := ""
				if row.Segments == segments {
					mark = "\t<- enough"
				}
				fmt.Fprintf(table, "%s\t%.1f°\t%.1f %%\t%.1f %%\t%.0f %%\t%d%s\n", segmentsName(row.Segments), row.SpanAngle*180/math.Pi,
					100*row.LeastRadius, 100*row.Volume, 100*row.DualQuaternion, row.Joints, mark)
			}
			if err := table.Flush(); err != nil {
				return err
			}
			for _, path := range written {
				fmt.Fprintf(c.OutOrStdout(), "written: %s\n", printable.Text(path))
			}
			return nil
		},
	}
	c.Flags().Var(&twistFlag, "twist", "the limb's greatest twist, in degrees")
	c.Flags().Var(&lossFlag, "loss", "the part of its radius that the limb may lose, 0 to 1")
	c.Flags().StringVarP(&folder, "output", "o", "", "a folder to write the curve into, as SVG, PNG and CSV")
	c.Flags().BoolVar(&asJSON, "json", false, "print the table as JSON")
	must(c.MarkFlagDirname("output"))
	return c
}

// fromPercent is what somebody meant who gave a loss in per cent.
func fromPercent(loss float64) string {
	if !(loss >= 1 && loss < 100) {
		return ""
	}
	return fmt.Sprintf("; for %g %% write %g", loss, loss/100)
}

func tooMany(degrees, loss float64, segments int) error {
	count := fmt.Sprint(segments)
	if segments > skin.MaxSpans {
		count = fmt.Sprintf("over %d", skin.MaxSpans)
	}
	return fmt.Errorf("a twist of %g degrees within a loss of %g takes %s segments, a limb has at most %d", degrees, loss, count, chain.MaxSegments)
}

func segmentsName(n int) string {
	if n == 1 {
		return "1 (as it is)"
	}
	return fmt.Sprint(n)
}

// planned is the table as JSON: degrees and fractions.
type planned struct {
	Twist    float64      `json:"twist_deg"`
	Loss     float64      `json:"loss"`
	Segments int          `json:"segments"`
	Rows     []plannedRow `json:"rows"`
	Files    []string     `json:"files,omitempty"`
}

type plannedRow struct {
	Segments    int     `json:"segments"`
	SpanTwist   float64 `json:"span_twist_deg"`
	LeastRadius float64 `json:"least_radius"`
	Volume      float64 `json:"volume"`
	Dual        float64 `json:"dual_quaternion"` // radius and volume
	Joints      int     `json:"joints_added"`
}

func planReport(degrees, loss float64, segments int, rows []skin.PlanRow, written []string) planned {
	out := planned{Twist: degrees, Loss: loss, Segments: segments, Files: written}
	for _, row := range rows {
		out.Rows = append(out.Rows, plannedRow{
			Segments: row.Segments, SpanTwist: row.SpanAngle * 180 / math.Pi,
			LeastRadius: row.LeastRadius, Volume: row.Volume, Dual: row.DualQuaternion, Joints: row.Joints,
		})
	}
	return out
}
