package report

import (
	"image"
	"math"
	"runtime"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mesh is a surface to draw, in the world. Triangles list their corners
// anticlockwise seen from outside.
type Mesh struct {
	Positions []r3.Vec
	Triangles [][3]int
	Colours   []Colour // one a vertex; nil draws everything mid grey

	// Pattern, where it is not nil, changes the colour of each point by where the
	// point is at rest: what is drawn on the skin moves with it.
	Pattern func(rest r3.Vec, colour Colour) Colour
	Rest    []r3.Vec // the positions at rest, for Pattern
}

// samples is the number of samples a pixel has each way; band is the number of
// pixel rows drawn at a time, which bounds the memory.
const (
	samples = 3
	band    = 32
)

// Render draws a mesh. Corners behind the eye or not finite drop their
// triangles.
func Render(m Mesh, camera Camera, width, height int, theme Theme) *image.RGBA {
	v := camera.view(width*samples, height*samples)
	d := drawing{
		normals: Normals(m.Positions, m.Triangles),
		corners: v.corners(m.Positions),
		lights:  v.rig(theme),
		theme:   theme,
		out:     image.NewRGBA(image.Rect(0, 0, width, height)),
	}
	d.shadow = castShadow(m, d.lights.key)

	// The bands share nothing but what they read, so their order does not show.
	tops := make(chan int)
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			b := newBuffer(width*samples, band*samples)
			for top := range tops {
				b.clear(top * samples)
				b.fill(d.corners, m, d.normals)
				d.resolve(b, top, min(top+band, height))
			}
		})
	}
	for top := 0; top < height; top += band {
		tops <- top
	}
	close(tops)
	workers.Wait()
	return d.out
}

// drawing is what the bands of one picture share.
type drawing struct {
	normals []r3.Vec
	corners []corner
	lights  rig
	shadow  *shadow
	theme   Theme
	out     *image.RGBA
}

// resolve lights the samples of the rows from top to end and sets the pixels.
func (d *drawing) resolve(b *buffer, top, end int) {
	width, height := d.out.Rect.Dx(), d.out.Rect.Dy()
	for y := top; y < end; y++ {
		ground := d.theme.ground((float64(y) + 0.5) / float64(height))
		plain := ground.RGBA8()
		for x := range width {
			var sum Colour
			hits := 0
			lit := 0.0
			for s := range samples * samples {
				i := ((y-top)*samples+s/samples)*b.w + x*samples + s%samples
				if math.IsInf(b.depth[i], 1) {
					continue
				}
				n := unit(b.normal[i])
				if hits == 0 { // one shadow a pixel is enough
					lit = d.shadow.lit(b.at[i], n)
				}
				hits++
				sum = sum.add(d.lights.shade(b.colour[i], n, lit))
			}
			if hits == 0 {
				d.out.SetRGBA(x, y, plain)
				continue
			}
			sum = sum.add(ground.scale(float64(samples*samples - hits)))
			d.out.SetRGBA(x, y, sum.scale(1.0/(samples*samples)).RGBA8())
		}
	}
}

func (t Theme) ground(y float64) Colour { return blend(t.Top, t.Bottom, y) }

// Normals are unit vertex normals, angle-weighted means of the faces around each
// vertex (G. Thürmer and C. Wüthrich, Computing vertex normals from polygonal
// facets, 1998, from memory). A vertex without area gets the zero vector.
func Normals(positions []r3.Vec, triangles [][3]int) []r3.Vec {
	out := make([]r3.Vec, len(positions))
	for _, t := range triangles {
		p := [3]r3.Vec{positions[t[0]], positions[t[1]], positions[t[2]]}
		n := unit(r3.Cross(r3.Sub(p[1], p[0]), r3.Sub(p[2], p[0])))
		for i := range p {
			a, b := r3.Sub(p[(i+1)%3], p[i]), r3.Sub(p[(i+2)%3], p[i])
			angle := math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b))
			out[t[i]] = r3.Add(out[t[i]], r3.Scale(angle, n))
		}
	}
	for i := range out {
		out[i] = unit(out[i])
	}
	return out
}

// unit keeps zero as zero, where r3.Unit gives NaN.
func unit(v r3.Vec) r3.Vec {
	if n := r3.Norm(v); n > 0 {
		return r3.Scale(1/n, v)
	}
	return r3.Vec{}
}
