package report

import (
	"errors"
	"image"
	"image/draw"
)

// Panel is a picture with words under it.
type Panel struct {
	Picture image.Image
	Caption string // in bold
	Note    string
}

// Sheet is a set of panels in rows under a title.
type Sheet struct {
	Title   string
	Panels  []Panel
	Columns int // panels in a row; 0 puts all in one
	Legend  *Legend
	Theme   Theme
}

// margin is the space around and between panels, in pixels.
const margin = 18

// Sizes of letters, in pixels.
const (
	titleSize   = 22
	captionSize = 15
	noteSize    = 13
)

// Compose draws the sheet. All columns are as wide as the widest picture.
func (s Sheet) Compose() (*image.RGBA, error) {
	if len(s.Panels) == 0 {
		return nil, errors.New("report: sheet without panels")
	}
	title, err := newPen(titleSize, true, s.Theme.Ink)
	if err != nil {
		return nil, err
	}
	caption, err := newPen(captionSize, true, s.Theme.Ink)
	if err != nil {
		return nil, err
	}
	note, err := newPen(noteSize, false, s.Theme.Faint)
	if err != nil {
		return nil, err
	}

	columns := s.Columns
	if columns < 1 || columns > len(s.Panels) {
		columns = len(s.Panels)
	}
	cell := 0
	for _, p := range s.Panels {
		cell = max(cell, p.Picture.Bounds().Dx())
	}
	width := margin + columns*(cell+margin)

	// Heights first: the image is made once.
	captions, notes := make([][]string, len(s.Panels)), make([][]string, len(s.Panels))
	for i, p := range s.Panels {
		if p.Caption != "" {
			captions[i] = caption.wrap(p.Caption, cell)
		}
		if p.Note != "" {
			notes[i] = note.wrap(p.Note, cell)
		}
	}
	var heads []string
	top := margin
	if s.Title != "" {
		heads = title.wrap(s.Title, width-2*margin)
		top += len(heads)*title.height + margin/2
	}
	var rows []int // where each row of panels begins, and the end
	y := top
	for first := 0; first < len(s.Panels); first += columns {
		rows = append(rows, y)
		tallest := 0
		for i := first; i < min(first+columns, len(s.Panels)); i++ {
			h := s.Panels[i].Picture.Bounds().Dy() + margin/3 + len(captions[i])*caption.height + len(notes[i])*note.height
			tallest = max(tallest, h)
		}
		y += tallest + margin
	}
	height := y
	var remarks []string
	if s.Legend != nil {
		if s.Legend.Note != "" {
			remarks = note.wrap(s.Legend.Note, width-2*margin)
		}
		height += legendHeight + len(remarks)*note.height + margin
	}

	out := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(out, out.Bounds(), image.NewUniform(s.Theme.Paper), image.Point{}, draw.Src)
	title.write(out, margin, margin, heads...)
	for i, p := range s.Panels {
		x, y := margin+(i%columns)*(cell+margin), rows[i/columns]
		b := p.Picture.Bounds()
		draw.Draw(out, image.Rect(x, y, x+b.Dx(), y+b.Dy()), p.Picture, b.Min, draw.Over)
		y = caption.write(out, x, y+b.Dy()+margin/3, captions[i]...)
		note.write(out, x, y, notes[i]...)
	}
	if s.Legend != nil {
		s.Legend.draw(out, margin, y, min(width-2*margin, legendWidth), note)
		note.write(out, margin, y+legendHeight, remarks...)
	}
	return out, nil
}
