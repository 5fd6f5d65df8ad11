package report

import (
	"image/color"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// lines tell curves apart by colour, by lightness and by their dashes.
var lines = []struct {
	light, dark color.RGBA
	dashes      []vg.Length
}{
	{color.RGBA{0xb0, 0x2a, 0x4f, 255}, color.RGBA{0xf0, 0x7a, 0x8e, 255}, []vg.Length{vg.Points(2), vg.Points(2.5)}},
	{color.RGBA{0xc9, 0x72, 0x1e, 255}, color.RGBA{0xf0, 0xa8, 0x5c, 255}, []vg.Length{vg.Points(7), vg.Points(3)}},
	{color.RGBA{0x38, 0x0f, 0x4a, 255}, color.RGBA{0xd6, 0xc4, 0xf2, 255}, nil},
	{color.RGBA{0x1c, 0x6e, 0x7d, 255}, color.RGBA{0x74, 0xc6, 0xd2, 255}, []vg.Length{vg.Points(9), vg.Points(2.5), vg.Points(2), vg.Points(2.5)}},
}

// lineOf is the style of curve i.
func lineOf(i int, theme Theme) draw.LineStyle {
	kind := lines[i%len(lines)]
	style := draw.LineStyle{Color: kind.light, Width: vg.Points(1.8), Dashes: kind.dashes}
	if theme.isDark() {
		style.Color = kind.dark
	}
	return style
}

func faintGrid(theme Theme) *plotter.Grid {
	grid := plotter.NewGrid()
	faint := theme.Faint
	faint.A = 60
	faint.R, faint.G, faint.B = uint8(int(faint.R)*60/255), uint8(int(faint.G)*60/255), uint8(int(faint.B)*60/255)
	grid.Vertical.Color, grid.Horizontal.Color = faint, faint
	return grid
}
