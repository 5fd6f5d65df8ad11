package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/check"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
)

// PlotBones plots radius and twist, either way round, along the bones at the limbs'
// worst twist:
// a row for each limb that pictures show, all to the same scales.
func PlotBones(f *check.Findings, theme Theme) (Plots, error) {
	out := Plots{Width: 4.6 * vg.Inch, Height: 2.7 * vg.Inch, Paper: theme.Paper, Columns: make([][]*plot.Plot, 2)}
	for _, l := range Shown(f) {
		p, ok := worstTwist(f, l.Name)
		if !ok {
			continue
		}
		key := newKey(2, theme)
		for column, what := range []struct {
			y     string
			left  func(skin.Section) float64
			ticks roundTicks
		}{
			{"radius, % of rest", func(s skin.Section) float64 { return 100 * s.Radius }, partTicks},
			{"twist of the skin, degrees", func(s skin.Section) float64 { return math.Abs(s.Turn) * 180 / math.Pi }, degreeTicks},
		} {
			plot := newPlot(l.Name+", "+p.Name, "along the bone, % of its length", what.y, theme)
			plot.Title.TextStyle.Font.Size = vg.Points(11)
			plot.Add(faintGrid(theme))
			plot.X.Tick.Marker, plot.Y.Tick.Marker = partTicks, what.ticks
			for i, side := range []struct {
				name     string
				sections []skin.Section
			}{{"source", p.Before.Sections}, {"split", p.After.Sections}} {
				points := along(side.sections, what.left)
				if points == nil { // a plot takes no empty line
					points = plotter.XYs{{X: 0, Y: 100 * float64(1-column)}}
				}
				line, err := plotter.NewLine(points)
				if err != nil {
					return out, fmt.Errorf("report: %s: %w", l.Name, err)
				}
				line.LineStyle = lineOf(2*i, theme)
				plot.Add(line)
				if column == 0 {
					key.add(side.name, line)
				}
			}
			plot.X.Min, plot.X.Max = 0, 100
			out.Columns[column] = append(out.Columns[column], plot)
		}
		out.Key = key
	}
	if len(out.Columns[0]) == 0 {
		return out, fmt.Errorf("report: no limb to plot")
	}
	sameScale(out.Columns[0], 100)
	sameScale(out.Columns[1], 0)
	return out, nil
}

// sameScale gives plots one scale upwards, from the least of all their figures to
// the greatest; including is on it in any case.
func sameScale(plots []*plot.Plot, including float64) {
	least, most := including, including
	for _, p := range plots {
		least, most = min(least, p.Y.Min), max(most, p.Y.Max)
	}
	if most == least {
		most++
	}
	for _, p := range plots {
		p.Y.Min, p.Y.Max = least, most
	}
}

// along are the places where a measure is known.
func along(sections []skin.Section, measure func(skin.Section) float64) plotter.XYs {
	var points plotter.XYs
	for _, s := range sections {
		if y := measure(s); y*0 == 0 { // neither NaN nor Inf
			points = append(points, plotter.XY{X: 100 * s.Station, Y: y})
		}
	}
	return points
}

// PlotCounts plots what is lost over the number of segments, measured on the
// limbs that pictures show.
func PlotCounts(f *check.Findings, theme Theme) (Plots, error) {
	out := Plots{Width: 4.6 * vg.Inch, Height: 2.9 * vg.Inch, Paper: theme.Paper}
	shown := Shown(f)
	for _, l := range shown {
		var rows []check.Count
		for _, c := range f.Tradeoff {
			if c.Limb == l.Name {
				rows = append(rows, c)
			}
		}
		if len(rows) == 0 {
			continue
		}
		out.Key = newKey(len(shown), theme)
		p := newPlot(fmt.Sprintf("%s, twist %.0f°", l.Name, rows[0].Twist), "segments", "loss, %", theme)
		p.Title.TextStyle.Font.Size = vg.Points(11)
		p.Add(faintGrid(theme))
		for i, curve := range []struct {
			name string
			left func(check.Count) float64
		}{
			{"radius, linear blend", func(c check.Count) float64 { return c.Radius }},
			{"volume, linear blend", func(c check.Count) float64 { return c.Volume }},
			{"radius, dual quaternions", func(c check.Count) float64 { return c.DualRadius }},
		} {
			left := make([]float64, len(rows))
			for k, row := range rows {
				left[k] = curve.left(row)
			}
			line, err := addLosses(p, i, left, theme)
			if err != nil {
				return out, fmt.Errorf("report: %s: %w", l.Name, err)
			}
			out.Key.add(curve.name, line)
		}
		lossAxes(p, len(rows))
		out.Columns = append(out.Columns, []*plot.Plot{p})
	}
	if len(out.Columns) == 0 {
		return out, fmt.Errorf("report: no limb to plot")
	}
	sameScale(slices.Concat(out.Columns...), 0)
	return out, nil
}

// SectionsCSV lists the sections of every limb in every pose.
func SectionsCSV(f *check.Findings) []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.Write([]string{"limb", "pose", "along", "radius_source", "radius_split", "area_source", "area_split", "twist_source_deg", "twist_split_deg"})
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
	w.Write([]string{"limb", "twist_deg", "segments", "minimum_radius", "volume", "minimum_radius_dual_quaternion", "volume_dual_quaternion", "minimum_radius_formula"})
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
