package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// shadow is the depth of the surface seen from a distant light (L. Williams,
// Casting curved shadows on curved surfaces, 1978, from memory).
type shadow struct {
	view view
	buf  *buffer
}

// shadowSize is the resolution of the light's view: about 2 mm on a person.
const shadowSize = 1024

func castShadow(m Mesh, toLight r3.Vec) *shadow {
	var low, high r3.Vec
	for i, p := range m.Positions {
		if i == 0 {
			low, high = p, p
		}
		low = r3.Vec{X: min(low.X, p.X), Y: min(low.Y, p.Y), Z: min(low.Z, p.Z)}
		high = r3.Vec{X: max(high.X, p.X), Y: max(high.Y, p.Y), Z: max(high.Z, p.Z)}
	}
	size := r3.Norm(r3.Sub(high, low))
	if !(size > 0) || math.IsInf(size, 1) {
		return nil
	}
	middle := r3.Scale(0.5, r3.Add(low, high))
	side := r3.Vec{X: 1}
	if math.Abs(toLight.X) > 0.7 {
		side = r3.Vec{Y: 1}
	}
	camera := Camera{Eye: r3.Add(middle, r3.Scale(size, toLight)), Target: middle, Up: side, Height: size * 1.02}
	s := &shadow{view: camera.view(shadowSize, shadowSize), buf: newBuffer(shadowSize, shadowSize)}
	s.buf.clear(0)
	s.buf.fill(s.view.corners(m.Positions), m, nil)
	return s
}

// lit is the share of the light that reaches a point: the mean over a patch of
// the light's view, which softens the shadow's edge.
func (s *shadow) lit(p, n r3.Vec) float64 {
	if s == nil {
		return 1
	}
	// Off the surface by a few of the light's pixels, or it would shade itself.
	texel := 1 / s.view.scale
	x, y, depth, _, ok := s.view.project(r3.Add(p, r3.Scale(3*texel, n)))
	if !ok {
		return 1
	}
	const reach = 3
	var lit, count float64
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			px, py := int(x)+2*dx, int(y)+2*dy
			if px < 0 || py < 0 || px >= shadowSize || py >= shadowSize {
				continue
			}
			count++
			if s.buf.depth[py*shadowSize+px] > depth-3*texel {
				lit++
			}
		}
	}
	if count == 0 {
		return 1
	}
	// Shadows never go black: a room has walls.
	return 0.35 + 0.65*lit/count
}
