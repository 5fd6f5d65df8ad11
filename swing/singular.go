package swing

import (
	"math"

	"github.com/pronate/pronate/internal/steady"
)

// tiny is the square of what counts as zero, beside the greatest |u|: next to such a
// place the field turns by a radian in some hundredths of one. The least over a
// shoulder's range of a limb that hangs at rest is 0.16.
const tiny = 0.01 * 0.01

// isSingular reports whether u has a zero inside the outline: whether its angle
// goes round once as one goes round the outline, or round one of the squares, of
// half a cell's side, that lie inside.
func (s *section) isSingular(outline []point) bool {
	around, before := 0., s.value(outline[len(outline)-1])
	for _, p := range outline {
		u := s.value(p)
		around += turn(before, u)
		before = u
	}
	if !(math.Abs(around) < math.Pi) { // NaN too
		return true
	}
	c := s.cells
	least, greatest := math.Inf(1), 0. // |u|^2
	sides := sides(outline)
	var below []*[2]float64 // of the line below; nil outside
	for j := range 2*c.ny + 1 {
		line := make([]*[2]float64, 2*c.nx+1)
		y := c.y + float64(float64(j)*c.step/2)
		crossings := crossings(sides, y)
		for k := 0; k+1 < len(crossings); k += 2 {
			first := int(math.Ceil((crossings[k] - c.x) / c.step * 2))
			last := int((crossings[k+1] - c.x) / c.step * 2)
			for i := max(first, 0); i <= min(last, 2*c.nx); i++ {
				u := s.value(point{c.x + float64(float64(i)*c.step/2), y})
				size := float64(u[0]*u[0]) + float64(u[1]*u[1])
				least, greatest = min(least, size), max(greatest, size)
				line[i] = &u
			}
		}
		for i := 0; below != nil && i+1 < len(line); i++ {
			p, q, r, o := below[i], below[i+1], line[i+1], line[i]
			if p == nil || q == nil || r == nil || o == nil {
				continue
			}
			if math.Abs(turn(*p, *q)+turn(*q, *r)+turn(*r, *o)+turn(*o, *p)) > math.Pi {
				return true
			}
		}
		below = line
	}
	return least < float64(tiny*greatest)
}

// value is u at a place of the plane.
func (s *section) value(p point) [2]float64 {
	c := s.cells
	x, y := (p.x-c.x)/c.step, (p.y-c.y)/c.step
	i, j := max(0, min(int(x), c.nx-1)), max(0, min(int(y), c.ny-1))
	b := c.basis(x-float64(i), y-float64(j))
	u, _, _ := s.at(i, j, &b)
	return u
}

// turn is the angle from one complex number to another.
func turn(u, v [2]float64) float64 {
	return steady.Atan2(float64(u[0]*v[1])-float64(u[1]*v[0]), float64(u[0]*v[0])+float64(u[1]*v[1]))
}
