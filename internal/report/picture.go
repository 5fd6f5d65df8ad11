package report

import (
	"fmt"
	"image"
	"slices"

	"github.com/pronate/pronate/chain/asset"
	"gonum.org/v1/gonum/spatial/r3"
)

// Shot is one view of one moment, taken before and after the split.
type Shot struct {
	Caption            string
	Clip               string
	Time               float64 // seconds
	Joint              string  // what the camera looks at
	Azimuth, Elevation float64 // radians, as in Orbit
	Height             float64 // metres shown from bottom to top
}

// Size of a shot in pixels.
const (
	shotWidth  = 380
	shotHeight = 420
)

// MostSqueeze is where the scale of squeeze ends.
const MostSqueeze = 0.6

// BeforeAndAfter draws the shots as a sheet of two rows, the source above and
// the split character below, painted by how far the skin is squeezed.
func BeforeAndAfter(source, split *asset.Evaluator, shots []Shot, theme Theme) (*image.RGBA, error) {
	triangles, err := source.Triangles()
	if err != nil {
		return nil, err
	}
	scale := NewScale(MostSqueeze)
	rest := source.Vertices(source.World(-1, 0))
	areas := Areas(rest, triangles)
	sheet := Sheet{
		Columns: len(shots), Theme: theme,
		Legend: &Legend{
			Scale: scale, Label: "skin squeezed across, as a part of its width at rest",
			Note: "Skin creases from about " + Percent(SqueezeLimit) + "; an even tone along a limb is the twist shared out.",
		},
	}
	among := map[int][]bool{} // by shot: the triangles that its area counts
	for _, row := range []struct {
		evaluator *asset.Evaluator
		caption   string
	}{{source, "one joint a bone"}, {split, "split"}} {
		for i, shot := range shots {
			clip := slices.Index(row.evaluator.Clips(), shot.Clip)
			joint := row.evaluator.Node(shot.Joint)
			if clip < 0 || joint < 0 {
				return nil, fmt.Errorf("report: shot %q: no clip %q or no joint %q", shot.Caption, shot.Clip, shot.Joint)
			}
			world := row.evaluator.World(clip, shot.Time)
			posed := row.evaluator.Vertices(world)
			target := r3.Vec{X: world[joint][12], Y: world[joint][13], Z: world[joint][14]}
			reach := shot.Height / 2
			if among[i] == nil { // the source decides, so that both rows count the same skin
				among[i] = near(posed, triangles, target, reach)
			}
			squeezed := Squeezed(rest, posed, triangles)
			const distance = 4 // metres: a portrait lens for any of the heights
			camera := Orbit(target, shot.Azimuth, shot.Elevation, distance, shot.Height)
			mesh := Mesh{Positions: posed, Triangles: triangles, Colours: scale.Paint(OntoVertices(squeezed, areas, triangles, len(rest)))}
			sheet.Panels = append(sheet.Panels, Panel{
				Picture: Render(mesh, camera, shotWidth, shotHeight, theme),
				Caption: shot.Caption + ": " + row.caption,
				Note: fmt.Sprintf("%s, %.2f s\nwithin %.0f cm of the joint: %.0f cm² squeezed by more than %s", shot.Clip, shot.Time,
					reach*100, squeezedArea(squeezed, areas, among[i])*1e4, Percent(SqueezeLimit)),
			})
		}
	}
	return sheet.Compose()
}

// near tells the triangles whose corners all lie within a distance of a point.
func near(at []r3.Vec, triangles [][3]int, point r3.Vec, distance float64) []bool {
	out := make([]bool, len(triangles))
	for i, t := range triangles {
		out[i] = true
		for _, corner := range t {
			out[i] = out[i] && r3.Norm(r3.Sub(at[corner], point)) <= distance
		}
	}
	return out
}
