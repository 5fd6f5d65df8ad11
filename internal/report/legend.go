package report

import (
	"image"
	"image/draw"
	"math"
	"strconv"
)

// Legend explains a scale.
type Legend struct {
	Scale Scale
	Label string // what is lost, e.g. "loss of radius"
	Note  string // how to read it; may be empty
}

const (
	legendWidth  = 420
	legendHeight = 52
	legendBar    = 12
	legendTicks  = 4 // steps from the least to the most
)

func (l *Legend) draw(on draw.Image, x, y, width int, p *pen) {
	y = p.write(on, x, y, l.Label)
	for i := range width {
		c := l.Scale.Colour(l.at(float64(i) / float64(width-1)))
		draw.Draw(on, image.Rect(x+i, y, x+i+1, y+legendBar), image.NewUniform(c.RGBA8()), image.Point{}, draw.Src)
	}
	for k := range legendTicks + 1 {
		at := x + (width-1)*k/legendTicks
		text := Percent(l.at(float64(k) / legendTicks))
		if k == legendTicks {
			text += " or more"
		}
		// The outer labels stay inside the bar.
		left := at - p.width(text)*k/legendTicks
		p.write(on, left, y+legendBar+1, text)
	}
}

// at is the loss at a place on the bar, 0 to 1.
func (l *Legend) at(t float64) float64 { return l.Scale.From + t*(l.Scale.Most-l.Scale.From) }

// Percent writes a fraction as a percentage with at most one decimal.
func Percent(fraction float64) string {
	return strconv.FormatFloat(math.Round(fraction*1000)/10, 'f', -1, 64) + " %"
}
