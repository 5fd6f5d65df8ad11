package report

import (
	"fmt"
	"image/color"
	"math"

	"github.com/pronate/pronate/chain/sweep"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// RollMap is one field's roll over a range of motion.
type RollMap struct {
	Title string
	Map   sweep.Map
	// Places that are marked; Centre is the same as Rest where the field goes
	// by none.
	Rest, Centre, Worst sweep.Place
}

// Axes name a range's two angles, with the motion at either end.
type Axes struct{ Flexion, Abduction string }

// mostRoll ends the scale of roll maps, in degrees a degree: places with more
// are all painted alike.
const mostRoll = 2.

// PlotRollMaps draws the maps under one another on one scale, and the scale
// below.
func PlotRollMaps(maps []RollMap, axes Axes, theme Theme) (Plots, error) {
	scale := NewScale(mostRoll)
	out := Plots{Width: 6.4 * vg.Inch, Paper: theme.Paper, Columns: make([][]*plot.Plot, 1)}
	for _, m := range maps {
		p := newPlot(m.Title, axes.Flexion, axes.Abduction, theme)
		p.X.Tick.Marker, p.Y.Tick.Marker = degreeTicks, degreeTicks
		p.Title.TextStyle.Font.Size = vg.Points(11)
		grid := rollGrid{m.Map}
		heat := plotter.NewHeatMap(grid, rollPalette{scale})
		heat.Min, heat.Max = 0, mostRoll
		heat.Overflow = scale.Colour(mostRoll).RGBA8()
		heat.NaN = theme.Faint
		heat.Rasterized = true
		p.Add(heat)
		for _, mark := range []struct {
			at    sweep.Place
			shape draw.GlyphDrawer
		}{{m.Centre, draw.PyramidGlyph{}}, {m.Rest, draw.RingGlyph{}}, {m.Worst, draw.CrossGlyph{}}} {
			if err := addMark(p, mark.at, mark.shape); err != nil {
				return out, fmt.Errorf("report: %s: %w", m.Title, err)
			}
		}
		c, r := grid.Dims()
		p.X.Min, p.X.Max = grid.X(0), grid.X(c-1)
		p.Y.Min, p.Y.Max = grid.Y(0), grid.Y(r-1)
		out.Columns[0] = append(out.Columns[0], p)
	}
	first := out.Columns[0][0]
	// A degree is as long both ways, within reason.
	shape := (first.Y.Max - first.Y.Min) / (first.X.Max - first.X.Min)
	out.Height = min(max(vg.Length(shape)*5.6*vg.Inch+0.9*vg.Inch, 2*vg.Inch), 5*vg.Inch)
	out.Foot, out.FootHeight = rollLegend(scale, theme), 0.85*vg.Inch
	return out, nil
}

// addMark puts a mark on a map, dark on a pale rim, so that it shows on any
// colour.
func addMark(p *plot.Plot, at sweep.Place, shape draw.GlyphDrawer) error {
	for _, s := range []draw.GlyphStyle{
		{Color: color.White, Radius: vg.Points(6), Shape: draw.CircleGlyph{}},
		{Color: color.Black, Radius: vg.Points(4), Shape: shape},
	} {
		points, err := plotter.NewScatter(plotter.XYs{{X: at.Flexion * 180 / math.Pi, Y: at.Abduction * 180 / math.Pi}})
		if err != nil {
			return err
		}
		points.GlyphStyle = s
		p.Add(points)
	}
	return nil
}

func rollLegend(scale Scale, theme Theme) *plot.Plot {
	p := newPlot("", "roll, degrees per degree of sway      ○ rest      ▲ centre      × worst", "", theme)
	bar := &plotter.ColorBar{ColorMap: rollColours{scale}, Colors: 256}
	p.Add(bar)
	p.HideY()
	p.X.Padding = 0
	p.X.Tick.Marker = plot.ConstantTicks{
		{Value: 0, Label: "0"}, {Value: 0.5, Label: "0.5"}, {Value: 1, Label: "1"}, {Value: 1.5, Label: "1.5"},
		{Value: mostRoll, Label: "2 or more"},
	}
	return p
}

// rollGrid is a map as gonum/plot reads it, in degrees.
type rollGrid struct{ m sweep.Map }

func (g rollGrid) Dims() (c, r int)   { return len(g.m.Flexion), len(g.m.Abduction) }
func (g rollGrid) Z(c, r int) float64 { return g.m.At(c, r) }
func (g rollGrid) X(c int) float64    { return g.m.Flexion[c] * 180 / math.Pi }
func (g rollGrid) Y(r int) float64    { return g.m.Abduction[r] * 180 / math.Pi }

// rollPalette is a scale in steps.
type rollPalette struct{ scale Scale }

func (p rollPalette) Colors() []color.Color {
	out := make([]color.Color, 256)
	for i := range out {
		out[i] = p.scale.Colour(p.scale.Most * float64(i) / 255).RGBA8()
	}
	return out
}

// rollColours is a scale as gonum/plot draws a colour bar of it.
type rollColours struct{ scale Scale }

func (c rollColours) At(x float64) (color.Color, error) {
	return c.scale.Colour(x).RGBA8(), nil
}
func (c rollColours) Max() float64                { return c.scale.Most }
func (c rollColours) Min() float64                { return 0 }
func (rollColours) SetMax(float64)                {}
func (rollColours) SetMin(float64)                {}
func (rollColours) Alpha() float64                { return 1 }
func (rollColours) SetAlpha(float64)              {}
func (c rollColours) Palette(int) palette.Palette { return rollPalette(c) }
