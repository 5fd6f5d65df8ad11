package report

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Key tells the curves of many plots apart, in lines above them, where it lies on
// no curve.
type Key struct {
	across int // how many curves a line has
	legend plot.Legend
	names  []string
	lines  []plot.Thumbnailer
}

const keyHeight = 18 // of a line

func (k *Key) height() vg.Length {
	if k == nil {
		return 0
	}
	return 8 + keyHeight*vg.Length((len(k.names)+k.across-1)/k.across)
}

// newKey is a key of curves in a theme's colours.
func newKey(across int, theme Theme) *Key {
	empty := newPlot("", "", "", theme)
	empty.Legend.Top, empty.Legend.Left = true, true
	return &Key{across: across, legend: empty.Legend}
}

func (k *Key) add(name string, line *plotter.Line) {
	k.names, k.lines = append(k.names, name), append(k.lines, line)
}

func (k *Key) draw(area draw.Canvas) {
	var x vg.Length
	for i, name := range k.names {
		if i%k.across == 0 {
			x = 16
		}
		one := k.legend
		one.Add(name, k.lines[i])
		one.XOffs, one.YOffs = x, -8-keyHeight*vg.Length(i/k.across)
		one.Draw(area)
		x += one.Rectangle(area).Size().X + 28
	}
}
