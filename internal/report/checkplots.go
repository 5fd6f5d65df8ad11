package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/check"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

type mat4 = mgl64.Mat4

// PlotBones plots radius and twist along the bones at the limbs' greatest twist:
// a row for each limb that pictures show.
func PlotBones(f *check.Findings, theme Theme) (Plots, error) {
	out := Plots{Width: 4.6 * vg.Inch, Height: 2.7 * vg.Inch, Paper: theme.Paper, Columns: make([][]*plot.Plot, 2)}
	for _, l := range Shown(f) {
		p, ok := worstTwist(f, l.Name)
		if !ok {
			continue
		}
		for column, what := range []struct {
			y    string
			left func(skin.Section) float64
		}{
			{"radius, % of rest", func(s skin.Section) float64 { return 100 * s.Radius }},
			{"twist of the skin, degrees", func(s skin.Section) float64 { return s.Turn * 180 / math.Pi }},
		} {
			plot := newPlot(l.Name+", "+p.Name, "along the bone, % of its length", what.y, theme)
			plot.Title.TextStyle.Font.Size = vg.Points(11)
			plot.Legend.Top = column == 1
			plot.Legend.Left = column == 1
			plot.Add(faintGrid(theme))
			plot.X.Tick.Marker, plot.Y.Tick.Marker = partTicks, partTicks
			if column == 1 {
				plot.Y.Tick.Marker = degreeTicks
			}
			for i, side := range []struct {
				name     string
				sections []skin.Section
			}{{"one joint", p.Before.Sections}, {"split", p.After.Sections}} {
				line, err := plotter.NewLine(along(side.sections, what.left))
				if err != nil {
					return out, fmt.Errorf("report: %s: %w", l.Name, err)
				}
				line.LineStyle = lineOf(2*i, theme)
				plot.Add(line)
				plot.Legend.Add(side.name, line)
			}
			out.Columns[column] = append(out.Columns[column], plot)
		}
	}
	if len(out.Columns[0]) == 0 {
		return out, fmt.Errorf("report: no limb to plot")
	}
	return out, nil
}

// along are the places where a measure is known; at least one, for a plot takes
// no empty line.
func along(sections []skin.Section, measure func(skin.Section) float64) plotter.XYs {
	var points plotter.XYs
	for _, s := range sections {
		if y := measure(s); y*0 == 0 { // neither NaN nor Inf
			points = append(points, plotter.XY{X: 100 * s.Station, Y: y})
		}
	}
	if points == nil {
		points = plotter.XYs{{}}
	}
	return points
}

// PlotCounts plots what is lost over the number of segments, measured on the
// limbs that pictures show.
func PlotCounts(f *check.Findings, theme Theme) (Plots, error) {
	out := Plots{Width: 4.6 * vg.Inch, Height: 2.9 * vg.Inch, Paper: theme.Paper}
	for _, l := range Shown(f) {
		var rows []check.Count
		for _, c := range f.Tradeoff {
			if c.Limb == l.Name {
				rows = append(rows, c)
			}
		}
		if len(rows) == 0 {
			continue
		}
		p := newPlot(fmt.Sprintf("%s, twist %.0f°", l.Name, rows[0].Twist), "segments", "loss, %", theme)
		p.Title.TextStyle.Font.Size = vg.Points(11)
		p.Add(faintGrid(theme))
		p.Legend.Top = true
		for i, curve := range []struct {
			name string
			left func(check.Count) float64
		}{
			{"radius, linear blend", func(c check.Count) float64 { return c.Radius }},
			{"volume, linear blend", func(c check.Count) float64 { return c.Volume }},
			{"radius, dual quaternions", func(c check.Count) float64 { return c.DualRadius }},
		} {
			var points plotter.XYs
			for _, row := range rows {
				points = append(points, plotter.XY{X: float64(row.Segments), Y: 100 * (1 - curve.left(row))})
			}
			line, dots, err := plotter.NewLinePoints(points)
			if err != nil {
				return out, fmt.Errorf("report: %s: %w", l.Name, err)
			}
			line.LineStyle = lineOf(i, theme)
			dots.GlyphStyle = draw.GlyphStyle{Color: line.Color, Radius: vg.Points(2.5), Shape: draw.CircleGlyph{}}
			p.Add(line, dots)
			p.Legend.Add(curve.name, line)
		}
		var ticks plot.ConstantTicks
		for _, row := range rows {
			ticks = append(ticks, plot.Tick{Value: float64(row.Segments), Label: fmt.Sprint(row.Segments)})
		}
		p.X.Tick.Marker, p.Y.Tick.Marker = ticks, partTicks
		p.Y.Min, p.Y.Max = min(p.Y.Min, 0), 1.4*p.Y.Max // room for the legend
		out.Columns = append(out.Columns, []*plot.Plot{p})
	}
	if len(out.Columns) == 0 {
		return out, fmt.Errorf("report: no limb to plot")
	}
	return out, nil
}

// SectionsCSV lists the sections of every limb in every pose.
func SectionsCSV(f *check.Findings) []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.Write([]string{"limb", "pose", "along", "radius_one_joint", "radius_split", "area_one_joint", "area_split", "twist_one_joint_deg", "twist_split_deg"})
	for _, p := range f.Poses {
		for i, b := range p.Before.Sections {
			a := p.After.Sections[i]
			w.Write([]string{
				p.Limb, p.Name, number(b.Station), number(b.Radius), number(a.Radius), number(b.Area), number(a.Area),
				number(b.Turn * 180 / math.Pi), number(a.Turn * 180 / math.Pi),
			})
		}
	}
	w.Flush() // a buffer takes everything
	return out.Bytes()
}

// CountsCSV lists what numbers of segments leave.
func CountsCSV(f *check.Findings) []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.Write([]string{"limb", "twist_deg", "segments", "least_radius", "volume", "least_radius_dual_quaternion", "volume_dual_quaternion", "least_radius_formula"})
	for _, c := range f.Tradeoff {
		w.Write([]string{
			c.Limb, number(c.Twist), fmt.Sprint(c.Segments), number(c.Radius), number(c.Volume),
			number(c.DualRadius), number(c.DualVolume), number(c.Formula),
		})
	}
	w.Flush()
	return out.Bytes()
}

// number is empty for what is not defined.
func number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return fmt.Sprintf("%.6g", x+0)
}
