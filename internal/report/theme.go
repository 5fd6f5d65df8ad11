package report

import "image/color"

// Theme is the surroundings of a picture.
type Theme struct {
	Top, Bottom Colour     // the background, blended from top to bottom
	Paper       color.RGBA // around the panels
	Ink, Faint  color.RGBA // captions, and what matters less
	Rim         float64    // strength of the light from behind
}

// Light and Dark are the two themes.
var (
	Light = Theme{
		Top:    FromColor(color.RGBA{0xf1, 0xf1, 0xee, 255}),
		Bottom: FromColor(color.RGBA{0xd9, 0xda, 0xd8, 255}),
		Paper:  color.RGBA{0xfb, 0xfb, 0xf9, 255},
		Ink:    color.RGBA{0x20, 0x22, 0x26, 255},
		Faint:  color.RGBA{0x63, 0x67, 0x6d, 255},
		Rim:    0.35,
	}
	Dark = Theme{
		Top:    FromColor(color.RGBA{0x33, 0x35, 0x3a, 255}),
		Bottom: FromColor(color.RGBA{0x24, 0x25, 0x29, 255}),
		Paper:  color.RGBA{0x1a, 0x1b, 0x1e, 255},
		Ink:    color.RGBA{0xec, 0xec, 0xe8, 255},
		Faint:  color.RGBA{0xa2, 0xa6, 0xac, 255},
		Rim:    0.6,
	}
)

// isDark reports whether ink is lighter than paper.
func (t Theme) isDark() bool { return t.Ink.G > t.Paper.G }
