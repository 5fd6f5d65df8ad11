package report

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/palette/moreland"
)

// Scale paints a loss: pale up to From, then amber, red and, at Most or more, a
// dark violet. Lightness falls evenly in CIE L*a*b*
// (K. Moreland's luminance maps, as gonum/plot has them), so that equal steps of
// loss look equal, in grey print and to colour-blind eyes too.
type Scale struct {
	From float64 // the most loss that stays pale, where the colour steps to amber; 0 has no step
	Most float64 // the loss that gets the last colour, above 0

	at func(float64) Colour
}

// controls are the colours the scale passes through, darkest first.
var controls = []color.Color{
	color.RGBA{0x38, 0x0f, 0x4a, 255},
	color.RGBA{0xb0, 0x2a, 0x4f, 255},
	color.RGBA{0xf0, 0x8a, 0x3c, 255},
	color.RGBA{0xf2, 0xee, 0xe4, 255},
}

// NewScale makes a scale from 0 to most.
func NewScale(most float64) Scale {
	colours, err := moreland.NewLuminance(controls)
	if err != nil {
		panic(err) // the controls are constants of this package
	}
	colours.SetMin(0)
	colours.SetMax(1)
	var table [1024]Colour // finer than the eye, and than 8 bits
	for i := range table {
		c, err := colours.At(1 - float64(i)/float64(len(table)-1))
		if err != nil {
			panic(err) // within its limits
		}
		table[i] = FromColor(c)
	}
	return Scale{Most: most, at: func(t float64) Colour {
		if math.IsNaN(t) {
			return Colour{0.5, 0.5, 0.5}
		}
		return table[int(t*float64(len(table)-1)+0.5)]
	}}
}

// threshold is the colour at From, a part of the way to the last: amber, so that what
// passes the threshold shows. It is 0 where From is 0, so that nothing steps.
const threshold = 0.25

// Colour paints one loss. Up to From it is pale, above Most as Most, NaN grey.
func (s Scale) Colour(loss float64) Colour {
	if s.From == 0 {
		return s.at(min(max(loss/s.Most, 0), 1))
	}
	if loss <= s.From {
		return s.at(0)
	}
	return s.at(min(threshold+(1-threshold)*(loss-s.From)/(s.Most-s.From), 1))
}

// Paint paints one loss a vertex.
func (s Scale) Paint(losses []float64) []Colour {
	out := make([]Colour, len(losses))
	for i, l := range losses {
		out[i] = s.Colour(l)
	}
	return out
}
