package report

import (
	"image/color"
	"math"
)

// Colour is linear RGB, 0 to 1 each.
type Colour [3]float64

// FromColor turns any opaque colour of the standard library, which is sRGB, into
// a linear one.
func FromColor(c color.Color) Colour {
	r, g, b, _ := c.RGBA()
	return Colour{decode(float64(r) / 0xffff), decode(float64(g) / 0xffff), decode(float64(b) / 0xffff)}
}

// RGBA8 encodes the colour as sRGB, clipping what lies outside 0 to 1.
func (c Colour) RGBA8() color.RGBA {
	return color.RGBA{quantise(c[0]), quantise(c[1]), quantise(c[2]), 255}
}

func quantise(v float64) uint8 {
	if !(v > 0) { // NaN too
		return 0
	}
	return uint8(math.Round(255 * min(encode(v), 1)))
}

// decode and encode are the transfer curve of sRGB (IEC 61966-2-1, from memory).
func decode(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

func encode(v float64) float64 {
	if v <= 0.0031308 {
		return v * 12.92
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

func (c Colour) scale(k float64) Colour { return Colour{c[0] * k, c[1] * k, c[2] * k} }

func (c Colour) add(d Colour) Colour { return Colour{c[0] + d[0], c[1] + d[1], c[2] + d[2]} }

func (c Colour) times(d Colour) Colour { return Colour{c[0] * d[0], c[1] * d[1], c[2] * d[2]} }

func blend(c, d Colour, t float64) Colour { return c.scale(1 - t).add(d.scale(t)) }
