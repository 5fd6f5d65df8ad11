package report

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
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
		points := make(plotter.XYs, len(rows))
		for k, row := range rows {
			points[k] = plotter.XY{X: float64(row.Segments), Y: 100 * (1 - curve.left(row))}
		}
		line, dots, err := plotter.NewLinePoints(points)
		if err != nil {
			return out, fmt.Errorf("report: plan: %w", err)
		}
		line.LineStyle = lineOf(i, theme)
		dots.GlyphStyle = draw.GlyphStyle{Color: line.Color, Radius: vg.Points(2.5), Shape: draw.CircleGlyph{}}
		p.Add(line, dots)
		p.Legend.Add(curve.name, line)
	}
	var ticks plot.ConstantTicks
	every := int(math.Ceil(float64(len(rows)) / 16))
	for i, row := range rows {
		if i%every == 0 {
			ticks = append(ticks, plot.Tick{Value: float64(row.Segments), Label: fmt.Sprint(row.Segments)})
		}
	}
	p.X.Tick.Marker, p.Y.Tick.Marker = ticks, partTicks
	p.Y.Min = min(p.Y.Min, 0)
	out.Columns = [][]*plot.Plot{{p}}
	return out, nil
}
