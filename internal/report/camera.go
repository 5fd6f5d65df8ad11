package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Camera looks from Eye to Target with Up upward in the picture. Up must not be
// parallel to the line of sight.
type Camera struct {
	Eye, Target, Up r3.Vec

	// Height is what the picture shows from bottom to top at the distance of the
	// target, in metres.
	Height float64

	// Perspective makes near things larger; otherwise the view is parallel.
	Perspective bool
}

// Orbit is a camera at a distance around a target: azimuth 0 looks at the front
// (from +Z), a quarter turn at the left side (from +X); elevation is upward;
// radians.
func Orbit(target r3.Vec, azimuth, elevation, distance, height float64) Camera {
	sinA, cosA := math.Sincos(azimuth)
	sinE, cosE := math.Sincos(elevation)
	away := r3.Vec{X: cosE * sinA, Y: sinE, Z: cosE * cosA}
	return Camera{
		Eye:         r3.Add(target, r3.Scale(distance, away)),
		Target:      target,
		Up:          r3.Vec{Y: 1},
		Height:      height,
		Perspective: true,
	}
}

// view maps the world to the picture.
type view struct {
	eye, right, up, back r3.Vec
	distance             float64
	scale                float64 // pixels per metre at the target
	middleX, middleY     float64
	perspective          bool
}

func (c Camera) view(width, height int) view {
	away := r3.Sub(c.Eye, c.Target)
	v := view{
		eye:         c.Eye,
		back:        r3.Unit(away),
		distance:    r3.Norm(away),
		scale:       float64(height) / c.Height,
		middleX:     float64(width) / 2,
		middleY:     float64(height) / 2,
		perspective: c.Perspective,
	}
	v.right = r3.Unit(r3.Cross(c.Up, v.back))
	v.up = r3.Cross(v.back, v.right)
	return v
}

// project gives the pixel coordinates (y downward), the depth and the factor by
// which things shrink there; false behind the eye.
func (v *view) project(p r3.Vec) (x, y, depth, shrink float64, ok bool) {
	d := r3.Sub(p, v.eye)
	depth = -r3.Dot(d, v.back)
	shrink = 1
	if v.perspective {
		// Nearer than a thousandth of the distance counts as behind the eye.
		if !(depth > v.distance/1000) {
			return 0, 0, 0, 0, false
		}
		shrink = v.distance / depth
	}
	k := v.scale * shrink
	x, y = v.middleX+k*r3.Dot(d, v.right), v.middleY-k*r3.Dot(d, v.up)
	return x, y, depth, shrink, !math.IsNaN(x + y + depth)
}
