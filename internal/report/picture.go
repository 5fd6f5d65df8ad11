package report

import (
	"fmt"
	"image"
	"slices"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/spatial/r3"
)

// Shot is one view of one moment, taken before and after the split.
type Shot struct {
	Caption            string
	Clip               string
	Time               float64 // seconds
	Joint              string  // what the camera looks at
	Toward             string  // a joint half-way to which it looks instead; may be empty
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
	atRest := source.Vertices(source.World(-1, 0))
	areas := Areas(atRest, triangles)
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
			target := rest.VecFromMgl64(world[joint].Col(3).Vec3())
			if toward := row.evaluator.Node(shot.Toward); toward >= 0 && shot.Toward != "" {
				target = r3.Scale(0.5, r3.Add(target, rest.VecFromMgl64(world[toward].Col(3).Vec3())))
			}
			reach := shot.Height / 2
			if among[i] == nil { // the source decides, so that both rows count the same skin
				among[i] = near(posed, triangles, target, reach)
			}
			squeezed := Squeezed(atRest, posed, triangles)
			const portrait = 6 // heights away, as for a portrait
			camera := Orbit(target, shot.Azimuth, shot.Elevation, portrait*shot.Height, shot.Height)
			mesh := Mesh{Positions: posed, Triangles: triangles, Colours: scale.Paint(OntoVertices(squeezed, areas, triangles, len(atRest)))}
			sheet.Panels = append(sheet.Panels, Panel{
				Picture: Render(mesh, camera, shotWidth, shotHeight, theme),
				Caption: shot.Caption + ": " + row.caption,
				Note: fmt.Sprintf("%s, %.2f s\nwithin %.0f cm of the middle: %.0f cm² squeezed by more than %s", shot.Clip, shot.Time,
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
