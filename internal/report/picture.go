package report

import (
	"fmt"
	"image"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
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
// the split character below, painted by how far the skin is squeezed: a sheet
// for each theme.
func BeforeAndAfter(source, split *asset.Evaluator, shots []Shot, themes ...Theme) ([]*image.RGBA, error) {
	triangles, err := source.Triangles()
	if err != nil {
		return nil, err
	}
	scale := NewScale(MostSqueeze)
	atRest := source.Vertices(source.World(-1, 0))
	areas := Areas(atRest, triangles)
	sheets := make([]Sheet, len(themes))
	for i, theme := range themes {
		sheets[i] = Sheet{
			Columns: len(shots), Theme: theme,
			Legend: &Legend{
				Scale: scale, Label: "skin squeezed across, as a part of its width at rest",
				Note: "Skin creases from about " + Percent(SqueezeLimit) + "; an even tone along a limb is the twist shared out.",
			},
		}
	}
	among := map[int][]bool{} // by shot: the triangles that its area counts
	for _, row := range []struct {
		evaluator *asset.Evaluator
		caption   string
	}{{source, "one joint a bone"}, {split, "split"}} {
		for i, shot := range shots {
			world, target, err := shot.aim(row.evaluator)
			if err != nil {
				return nil, err
			}
			posed := row.evaluator.Vertices(world)
			reach := shot.Height / 2
			if among[i] == nil { // the source decides, so that both rows count the same skin
				among[i] = near(posed, triangles, target, reach)
			}
			squeezed := Squeezed(atRest, posed, triangles)
			const portrait = 6 // heights away, as for a portrait
			camera := Orbit(target, shot.Azimuth, shot.Elevation, portrait*shot.Height, shot.Height)
			mesh := Mesh{Positions: posed, Triangles: triangles, Colours: scale.Paint(OntoVertices(squeezed, areas, triangles, len(atRest)))}
			for k, theme := range themes {
				sheets[k].Panels = append(sheets[k].Panels, Panel{
					Picture: Render(mesh, camera, shotWidth, shotHeight, theme),
					Caption: shot.Caption + ": " + row.caption,
					Note: fmt.Sprintf("%s, %.2f s\nwithin %.0f cm of the middle: %.0f cm² squeezed by more than %s", shot.Clip, shot.Time,
						reach*100, squeezedArea(squeezed, areas, among[i])*1e4, Percent(SqueezeLimit)),
				})
			}
		}
	}
	out := make([]*image.RGBA, len(sheets))
	for i := range sheets {
		if out[i], err = sheets[i].Compose(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// aim poses a character for the shot and finds what the camera looks at.
func (s *Shot) aim(e *asset.Evaluator) (world []mgl64.Mat4, target r3.Vec, err error) {
	clip, joint := slices.Index(e.Clips(), s.Clip), e.Node(s.Joint)
	if clip < 0 || joint < 0 {
		return nil, target, fmt.Errorf("report: shot %q: no clip %q or no joint %q", s.Caption, s.Clip, s.Joint)
	}
	world = e.World(clip, s.Time)
	target = rest.VecFromMgl64(world[joint].Col(3).Vec3())
	if s.Toward != "" {
		if toward := e.Node(s.Toward); toward >= 0 {
			target = r3.Scale(0.5, r3.Add(target, rest.VecFromMgl64(world[toward].Col(3).Vec3())))
		}
	}
	return world, target, nil
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
