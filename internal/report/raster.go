package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// corner is a vertex in the picture.
type corner struct {
	x, y, depth, shrink float64
	visible             bool
}

func (v *view) corners(positions []r3.Vec) []corner {
	out := make([]corner, len(positions))
	for i, p := range positions {
		c := &out[i]
		c.x, c.y, c.depth, c.shrink, c.visible = v.project(p)
	}
	return out
}

// buffer holds the nearest surface at every sample of a band of rows.
type buffer struct {
	w, h   int
	top    int       // the band's first row in the picture
	depth  []float64 // +Inf where nothing is
	normal []r3.Vec
	at     []r3.Vec // in the world
	colour []Colour
}

func newBuffer(w, h int) *buffer {
	return &buffer{w: w, h: h, depth: make([]float64, w*h)}
}

// clear makes the buffer an empty band that begins at a row.
func (b *buffer) clear(top int) {
	b.top = top
	for i := range b.depth {
		b.depth[i] = math.Inf(1)
	}
}

// fill draws the triangles; nil normals draw the depth alone.
func (b *buffer) fill(corners []corner, m Mesh, normals []r3.Vec) {
	if normals != nil && b.normal == nil {
		b.normal = make([]r3.Vec, b.w*b.h)
		b.at = make([]r3.Vec, b.w*b.h)
		b.colour = make([]Colour, b.w*b.h)
	}
	for _, t := range m.Triangles {
		p, q, r := &corners[t[0]], &corners[t[1]], &corners[t[2]]
		// Pixel rows run downward, so a triangle facing the eye has negative area.
		area := (q.x-p.x)*(r.y-p.y) - (r.x-p.x)*(q.y-p.y)
		if !(p.visible && q.visible && r.visible && area < 0) {
			continue
		}
		y0, y1 := span(p.y, q.y, r.y, b.top, b.top+b.h)
		x0, x1 := span(p.x, q.x, r.x, 0, b.w)
		for py := y0; py < y1; py++ {
			for px := x0; px < x1; px++ {
				cx, cy := float64(px)+0.5, float64(py)+0.5
				s := [3]float64{
					((q.x-cx)*(r.y-cy) - (r.x-cx)*(q.y-cy)) / area,
					((r.x-cx)*(p.y-cy) - (p.x-cx)*(r.y-cy)) / area,
					((p.x-cx)*(q.y-cy) - (q.x-cx)*(p.y-cy)) / area,
				}
				if s[0] < 0 || s[1] < 0 || s[2] < 0 {
					continue
				}
				// Shares along the surface from shares in the picture.
				s[0], s[1], s[2] = s[0]*p.shrink, s[1]*q.shrink, s[2]*r.shrink
				sum := s[0] + s[1] + s[2]
				s[0], s[1], s[2] = s[0]/sum, s[1]/sum, s[2]/sum
				depth := s[0]*p.depth + s[1]*q.depth + s[2]*r.depth
				at := (py-b.top)*b.w + px
				if !(depth < b.depth[at]) {
					continue
				}
				b.depth[at] = depth
				if normals == nil {
					continue
				}
				b.normal[at] = mean(s, normals, t)
				b.at[at] = mean(s, m.Positions, t)
				b.colour[at] = Colour{0.5, 0.5, 0.5}
				if m.Colours != nil {
					b.colour[at] = m.Colours[t[0]].scale(s[0]).
						add(m.Colours[t[1]].scale(s[1])).add(m.Colours[t[2]].scale(s[2]))
				}
				if m.Pattern != nil {
					b.colour[at] = m.Pattern(mean(s, m.Rest, t), b.colour[at])
				}
			}
		}
	}
}

func mean(s [3]float64, of []r3.Vec, t [3]int) r3.Vec {
	return r3.Add(r3.Scale(s[0], of[t[0]]), r3.Add(r3.Scale(s[1], of[t[1]]), r3.Scale(s[2], of[t[2]])))
}

// span is the range of samples that a triangle may cover, within first and end.
func span(a, b, c float64, first, end int) (from, to int) {
	low := math.Floor(min(a, b, c))
	high := math.Ceil(max(a, b, c))
	return int(max(low, float64(first))), int(min(high, float64(end)))
}
