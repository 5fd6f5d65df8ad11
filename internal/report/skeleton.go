package report

import (
	"image"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// marker is a joint drawn over a picture: a disc with a pointer that turns with the
// joint.
type marker struct {
	At, Pointer r3.Vec // Pointer is from At, in the world
}

// markers are the joints of a limb in a pose. At rest all pointers point one way,
// across the bone.
func markers(e *asset.Evaluator, world []mgl64.Mat4, joints []string, rested r3.Vec) (out []marker) {
	atRest := e.World(-1, 0)
	for _, name := range joints {
		node := e.Node(name)
		if node < 0 {
			continue
		}
		before, _ := rest.Anchor(atRest[node])
		now, _ := rest.Anchor(world[node])
		turn := rest.Frame{Rotation: quat.Mul(now.Rotation, quat.Conj(before.Rotation))}
		out = append(out, marker{At: rest.VecFromMgl64(world[node].Col(3).Vec3()), Pointer: turn.Direction(rested)})
	}
	return out
}

// Sizes of what is drawn over a picture, in pixels.
const (
	discRadius   = 7
	boneWidth    = 3
	pointerWidth = 3
	outline      = 1.5
)

// drawMarkers draws the bone from the first of the ends to the last, and the joints.
func drawMarkers(on *image.RGBA, camera Camera, bone [2]r3.Vec, joints []marker) {
	v := camera.view(on.Rect.Dx(), on.Rect.Dy())
	place := func(p r3.Vec) (at [2]float64) {
		at[0], at[1], _, _, _ = v.project(p)
		return at
	}
	ink, paper := FromColor(Light.Ink), FromColor(Light.Paper)
	stroke := func(from, to [2]float64, width float64, c Colour) {
		line(on, from, to, width+2*outline, paper)
		line(on, from, to, width, c)
	}
	stroke(place(bone[0]), place(bone[1]), boneWidth, ink)
	for _, m := range joints {
		at := place(m.At)
		stroke(at, place(r3.Add(m.At, m.Pointer)), pointerWidth, ink)
	}
	for _, m := range joints {
		at := place(m.At)
		line(on, at, at, 2*(discRadius+outline), paper)
		line(on, at, at, 2*discRadius, ink)
		line(on, at, at, discRadius, paper)
	}
}

// line draws a line with round ends, smooth at its edges; one without length is a
// disc.
func line(on *image.RGBA, from, to [2]float64, width float64, c Colour) {
	reach := width/2 + 1
	area := image.Rect(
		int(math.Floor(min(from[0], to[0])-reach)), int(math.Floor(min(from[1], to[1])-reach)),
		int(math.Ceil(max(from[0], to[0])+reach)), int(math.Ceil(max(from[1], to[1])+reach)),
	).Intersect(on.Rect)
	dx, dy := to[0]-from[0], to[1]-from[1]
	length := dx*dx + dy*dy
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			px, py := float64(x)+0.5-from[0], float64(y)+0.5-from[1]
			t := 0.
			if length > 0 {
				t = min(max((px*dx+py*dy)/length, 0), 1)
			}
			cover := min(max(width/2+0.5-math.Hypot(px-t*dx, py-t*dy), 0), 1)
			if cover > 0 {
				on.SetRGBA(x, y, blend(FromColor(on.RGBAAt(x, y)), c, cover).RGBA8())
			}
		}
	}
}
