package report

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"strings"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// faces are the fonts, parsed once.
var faces = sync.OnceValues(func() (fs [2]*opentype.Font, err error) {
	for i, data := range [2][]byte{liberationsansregular.TTF, liberationsansbold.TTF} {
		if fs[i], err = opentype.Parse(data); err != nil {
			return fs, fmt.Errorf("report: font: %w", err)
		}
	}
	return fs, nil
})

// pen writes lines of one size and weight.
type pen struct {
	face   font.Face
	ink    color.Color
	height int // from line to line
}

// newPen makes a pen for letters of a size in pixels.
func newPen(size float64, bold bool, ink color.Color) (*pen, error) {
	fs, err := faces()
	if err != nil {
		return nil, err
	}
	f := fs[0]
	if bold {
		f = fs[1]
	}
	// At 72 dots an inch a point is a pixel.
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return nil, fmt.Errorf("report: font: %w", err)
	}
	return &pen{face: face, ink: ink, height: int(size*1.35 + 0.5)}, nil
}

func (p *pen) width(s string) int { return font.MeasureString(p.face, s).Ceil() }

// wrap breaks text into lines no wider than a number of pixels; a word that is
// wider stands alone. A newline in the text starts a line.
func (p *pen) wrap(text string, width int) []string {
	var lines []string
	for _, paragraph := range strings.Split(text, "\n") {
		line := ""
		for _, word := range strings.Fields(paragraph) {
			longer := strings.TrimSpace(line + " " + word)
			if line != "" && p.width(longer) > width {
				lines = append(lines, line)
				longer = word
			}
			line = longer
		}
		lines = append(lines, line)
	}
	return lines
}

// write sets lines with their left edge at x, the first below y, and returns
// where the next would begin.
func (p *pen) write(on draw.Image, x, y int, lines ...string) int {
	d := font.Drawer{Dst: on, Src: image.NewUniform(p.ink), Face: p.face}
	for _, line := range lines {
		// Capitals stand in the middle of their line.
		base := y + (p.height+p.face.Metrics().CapHeight.Ceil())/2
		d.Dot = fixed.P(x, base)
		d.DrawString(line)
		y += p.height
	}
	return y
}
