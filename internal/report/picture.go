package report

import (
	"fmt"
	"image"
	"math"
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
	Number             int     // of the clip, from 1, where another may have its name; 0 goes by the name
	Time               float64 // seconds
	Joint              string  // what the camera looks at
	Toward             string  // a joint half-way to which it looks instead; may be empty
	Azimuth, Elevation float64 // radians, as in Orbit
	Height             float64 // metres shown from bottom to top

	// Told is set where the caption says what moment it is; else clip and time
	// stand under it.
	Told bool
	// Length, where it is not 0, is that of the limb, and distances are told as
	// parts of it: the character's lengths are no metres.
	Length float64
	// Only, where it is not nil, is the part of the squeeze that is shown of each
	// vertex, 0 to 1: other skin is left unpainted and uncounted.
	Only []float64
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
				Scale: scale, Label: "skin compressed across, as a part of its width at rest",
				Note: "Skin creases from about " + Percent(SqueezeLimit) + "; where the twist is shared out, the tone along the limb is even.",
			},
		}
	}
	among := map[int][]bool{} // by shot: the triangles that its area counts
	for _, row := range []struct {
		evaluator *asset.Evaluator
		caption   string
	}{{source, "source"}, {split, "split"}} {
		for i, shot := range shots {
			world, target, err := shot.aim(row.evaluator)
			if err != nil {
				return nil, err
			}
			posed := row.evaluator.Vertices(world)
			reach := shot.Height / 2
			if among[i] == nil { // the source decides, so that both rows count the same skin
				among[i] = near(posed, triangles, target, reach, shot.Only)
			}
			squeezed := Squeezed(atRest, posed, triangles)
			const portrait = 6 // heights away, as for a portrait
			camera := Orbit(target, shot.Azimuth, shot.Elevation, portrait*shot.Height, shot.Height)
			painted := OntoVertices(squeezed, areas, triangles, len(atRest))
			for v := range painted {
				painted[v] *= fade(r3.Norm(r3.Sub(posed[v], target)) / reach)
				if shot.Only != nil {
					painted[v] *= shot.Only[v]
				}
			}
			mesh := Mesh{Positions: posed, Triangles: triangles, Colours: scale.Paint(painted)}
			for k, theme := range themes {
				sheets[k].Panels = append(sheets[k].Panels, Panel{
					Picture: Render(mesh, camera, shotWidth, shotHeight, theme),
					Caption: shot.Caption + ": " + row.caption,
					Note:    shot.note(reach, squeezed, areas, among[i]),
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

// note is what stands under the caption.
func (s *Shot) note(reach float64, squeezed, areas []float64, among []bool) string {
	what := "the joint"
	if s.Toward != "" {
		what = "the limb's middle"
	}
	area := squeezedArea(squeezed, areas, among)
	text := fmt.Sprintf("within %.0f cm of %s: %.0f cm² compressed by more than %s", reach*100, what, area*1e4, Percent(SqueezeLimit))
	if s.Length != 0 {
		text = fmt.Sprintf("within %.2f limb lengths of %s: %.1f %% of the skin compressed by more than %s",
			reach/s.Length, what, 100*area/max(sum(areas, among), math.SmallestNonzeroFloat64), Percent(SqueezeLimit))
	}
	if s.Told {
		return text
	}
	return fmt.Sprintf("%s, %.2f s\n%s", s.Clip, s.Time, text)
}

func sum(areas []float64, among []bool) (total float64) {
	for i, a := range areas {
		if among[i] {
			total += a
		}
	}
	return total
}

// fade is 1 within a distance of 0.9, 0 from 1 on, and smooth between: nothing
// beyond what is counted is painted.
func fade(distance float64) float64 {
	x := min(max((1-distance)/0.1, 0), 1)
	return x * x * (3 - 2*x)
}

// aim poses a character for the shot and finds what the camera looks at.
func (s *Shot) aim(e *asset.Evaluator) (world []mgl64.Mat4, target r3.Vec, err error) {
	clip, joint := s.Number-1, e.Node(s.Joint)
	if s.Number == 0 {
		clip = slices.Index(e.Clips(), s.Clip)
	}
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

// near tells the triangles whose corners all lie within a distance of a point,
// and of which half is shown at least, where only part is.
func near(at []r3.Vec, triangles [][3]int, point r3.Vec, distance float64, only []float64) []bool {
	out := make([]bool, len(triangles))
	for i, t := range triangles {
		out[i] = true
		for _, corner := range t {
			out[i] = out[i] && r3.Norm(r3.Sub(at[corner], point)) <= distance && (only == nil || only[corner] >= 0.5)
		}
	}
	return out
}
