package report

import (
	"fmt"

	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
)

// PlotPlan plots loss over the number of segments, of a twist in degrees.
func PlotPlan(degrees float64, rows []skin.PlanRow, theme Theme) (Plots, error) {
	out := Plots{Width: 6 * vg.Inch, Height: 3.6 * vg.Inch, Paper: theme.Paper}
	p := newPlot(fmt.Sprintf("what a twist of %g° costs", degrees), "segments", "loss, %", theme)
	p.Add(faintGrid(theme))
	p.Legend.Top = true
	curves := []struct {
		name string
		left func(skin.PlanRow) float64
	}{
		{"radius, linear blend", func(r skin.PlanRow) float64 { return r.LeastRadius }},
		{"volume, linear blend", func(r skin.PlanRow) float64 { return r.Volume }},
		{"both, dual quaternions", func(r skin.PlanRow) float64 { return r.DualQuaternion }},
	}
	for i, curve := range curves {
		left := make([]float64, len(rows))
		for k, row := range rows {
			left[k] = curve.left(row)
		}
		line, err := addLosses(p, i, left, theme)
		if err != nil {
			return out, fmt.Errorf("report: plan: %w", err)
		}
		p.Legend.Add(curve.name, line)
	}
	lossAxes(p, len(rows))
	p.Y.Min = min(p.Y.Min, 0)
	out.Columns = [][]*plot.Plot{{p}}
	return out, nil
}
