package report

import (
	"bytes"
	"fmt"
	"image/color"
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Plots are plots side by side, to be written as pictures.
type Plots struct {
	Columns       [][]*plot.Plot // each from top to bottom; all of one length
	Width, Height vg.Length      // of one plot
	Paper         color.Color
	Foot          *plot.Plot // under them all, such as a legend; may be nil
	FootHeight    vg.Length
	Key           *Key // above them all; may be nil
}

// inch and dots: pictures are made twice as dense as screens used to be.
const dotsPerInch = 144

// PNG draws the plots as pixels, 144 to the inch.
func (p Plots) PNG() ([]byte, error) {
	canvas := vgimg.NewWith(vgimg.UseWH(p.size()), vgimg.UseDPI(dotsPerInch), vgimg.UseBackgroundColor(p.Paper))
	p.draw(draw.New(canvas))
	return PNG(canvas.Image())
}

// SVG draws the plots as lines.
func (p Plots) SVG() ([]byte, error) {
	canvas := vgsvg.New(p.size())
	area := draw.New(canvas)
	area.FillPolygon(p.Paper, []vg.Point{area.Min, {X: area.Max.X, Y: area.Min.Y}, area.Max, {X: area.Min.X, Y: area.Max.Y}})
	p.draw(area)
	var out bytes.Buffer
	if _, err := canvas.WriteTo(&out); err != nil {
		return nil, fmt.Errorf("report: svg: %w", err)
	}
	return out.Bytes(), nil
}

func (p Plots) size() (width, height vg.Length) {
	return p.Width * vg.Length(len(p.Columns)), p.Height*vg.Length(len(p.Columns[0])) + p.FootHeight + p.Key.height()
}

func (p Plots) draw(area draw.Canvas) {
	if p.Foot != nil {
		p.Foot.Draw(draw.Crop(area, 40, -40, 6, p.FootHeight-(area.Max.Y-area.Min.Y)))
		area = draw.Crop(area, 0, 0, p.FootHeight, 0)
	}
	if p.Key != nil {
		p.Key.draw(area)
		area = draw.Crop(area, 0, 0, 0, -p.Key.height())
	}
	rows := len(p.Columns[0])
	tiles := draw.Tiles{
		Rows: rows, Cols: len(p.Columns),
		PadTop: 8, PadBottom: 8, PadLeft: 8, PadRight: 14, PadX: 16, PadY: 12,
	}
	grid := make([][]*plot.Plot, rows)
	for i := range grid {
		for _, column := range p.Columns {
			grid[i] = append(grid[i], column[i])
		}
	}
	for i, row := range plot.Align(grid, tiles, area) {
		for j, tile := range row {
			if grid[i][j] != nil {
				grid[i][j].Draw(tile)
			}
		}
	}
}

// newPlot is an empty plot in a theme's colours.
func newPlot(title, x, y string, theme Theme) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = theme.Paper
	p.Title.Text, p.X.Label.Text, p.Y.Label.Text = title, x, y
	p.Title.Padding = vg.Points(6)
	p.Title.TextStyle.Color = theme.Ink
	p.Legend.TextStyle.Color = theme.Ink
	p.Legend.Padding = vg.Points(3)
	for _, style := range []*text.Style{
		&p.Title.TextStyle, &p.Legend.TextStyle,
		&p.X.Label.TextStyle, &p.X.Tick.Label, &p.Y.Label.TextStyle, &p.Y.Tick.Label,
	} {
		style.Font.Variant = "Sans"
	}
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.Label.TextStyle.Color = theme.Ink
		axis.Tick.Label.Color = theme.Faint
		axis.Color, axis.Tick.Color = theme.Faint, theme.Faint
	}
	return p
}

// roundTicks marks an axis at multiples of the first of the steps that leaves
// no more than seven marks on it.
type roundTicks []float64

// Round steps of degrees, and of per cent.
var (
	degreeTicks = roundTicks{0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 45, 60, 90, 180}
	partTicks   = roundTicks{0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 25, 50, 100}
)

// Ticks implements plot.Ticker.
func (steps roundTicks) Ticks(least, most float64) []plot.Tick {
	const few = 5
	step := steps[len(steps)-1]
	for _, s := range steps {
		if (most-least)/s <= few+2 {
			step = s
			break
		}
	}
	var out []plot.Tick
	most += 1e-9 * step // what rounding takes off the last
	for i := math.Ceil(least / step); i*step <= most; i++ {
		out = append(out, plot.Tick{Value: i * step, Label: strconv.FormatFloat(i*step+0, 'g', 6, 64)})
	}
	return out
}
