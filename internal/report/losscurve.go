package report

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// addLosses draws curve i of what is lost, in per cent, over 1, 2, … segments,
// given what is left. Places that were not measured are left out.
func addLosses(p *plot.Plot, i int, left []float64, theme Theme) (*plotter.Line, error) {
	var points plotter.XYs
	for k, part := range left {
		if part*0 == 0 { // neither NaN nor Inf
			points = append(points, plotter.XY{X: float64(k + 1), Y: 100 * (1 - part)})
		}
	}
	if points == nil { // a plot takes no empty line
		points = plotter.XYs{{X: 1}}
	}
	line, dots, err := plotter.NewLinePoints(points)
	if err != nil {
		return nil, err
	}
	line.LineStyle = lineOf(i, theme)
	dots.GlyphStyle = draw.GlyphStyle{Color: line.Color, Radius: vg.Points(2.5), Shape: draw.CircleGlyph{}}
	p.Add(line, dots)
	return line, nil
}

// lossAxes marks 1 to n segments, some sixteen of them at most, and per cent.
func lossAxes(p *plot.Plot, n int) {
	var ticks plot.ConstantTicks
	for k := 1; k <= n; k += int(math.Ceil(float64(n) / 16)) {
		ticks = append(ticks, plot.Tick{Value: float64(k), Label: fmt.Sprint(k)})
	}
	p.X.Tick.Marker, p.Y.Tick.Marker = ticks, partTicks
}
