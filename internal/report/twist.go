package report

import (
	"fmt"
	"image"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/spatial/r3"
)

// TwistShot is a view of a twisted limb, of the source and of the split character.
type TwistShot struct {
	Shot
	Bone    [2]string // the limb's joint and the joint at its end
	Pointer r3.Vec    // of the joints that are drawn, across the bone at rest, metres
	// Within tells which skin is the limb's, by where it is at rest: 0 to 1.
	Within func(rest r3.Vec) float64
	// Joints are the segments of the split character.
	Joints []string
}

// Size of a twist shot in pixels.
const (
	twistWidth  = 540
	twistHeight = 480
)

// DrawTwists draws each shot as a row of two panels, the source on the left and the
// split character on the right, for light and dark pages. Stripes and rings on the
// skin show the twist, the colour shows skin that is compressed by more than
// SqueezeLimit.
func DrawTwists(source, split *asset.Evaluator, shots []TwistShot) (p Picture, err error) {
	light, err := twistSheet(source, split, shots, Light)
	if err != nil {
		return p, err
	}
	dark, err := twistSheet(source, split, shots, Dark)
	if err != nil {
		return p, err
	}
	if p.Light, err = PNG(light); err != nil {
		return p, err
	}
	p.Dark, err = PNG(dark)
	return p, err
}

func twistSheet(source, split *asset.Evaluator, shots []TwistShot, theme Theme) (*image.RGBA, error) {
	triangles, err := source.Triangles()
	if err != nil {
		return nil, err
	}
	scale := NewScale(MostSqueeze)
	scale.From = SqueezeLimit
	rested := source.World(-1, 0)
	atRest := source.Vertices(rested)
	areas := Areas(atRest, triangles)
	sheet := Sheet{
		Columns: 2, Theme: theme,
		Legend: &Legend{
			Scale: scale, Label: "compression of the skin, as a part of its width at rest",
			Note: "Skin that is compressed by less than " + Percent(SqueezeLimit) + " does not crease and is not coloured. The stripes run along the bone at rest.",
		},
	}
	for _, shot := range shots {
		for _, name := range shot.Bone {
			if source.Node(name) < 0 {
				return nil, fmt.Errorf("report: shot %q: no joint %q", shot.Caption, name)
			}
		}
		from, to := shot.ends(source, rested)
		pattern := stripes{from: from, to: to, within: shot.Within}.pattern()
		counted := inside(atRest, triangles, shot.Within)
		for _, side := range []struct {
			evaluator *asset.Evaluator
			joints    []string
			caption   string
		}{
			{source, shot.Bone[:1], "one joint per bone"},
			{split, shot.Joints, fmt.Sprintf("%d segments", len(shot.Joints))},
		} {
			world, target, err := shot.aim(side.evaluator)
			if err != nil {
				return nil, err
			}
			posed := side.evaluator.Vertices(world)
			squeezed := Squeezed(atRest, posed, triangles)
			painted := OntoVertices(squeezed, areas, triangles, len(atRest))
			for v := range painted {
				painted[v] *= shot.Within(atRest[v])
			}
			const portrait = 6 // heights away, as for a portrait
			camera := Orbit(target, shot.Azimuth, shot.Elevation, portrait*shot.Height, shot.Height)
			picture := Render(Mesh{
				Positions: posed, Triangles: triangles, Colours: scale.Paint(painted),
				Rest: atRest, Pattern: pattern,
			}, camera, twistWidth, twistHeight, theme)
			root, end := shot.ends(side.evaluator, world)
			drawMarkers(picture, camera, [2]r3.Vec{root, end}, markers(side.evaluator, world, side.joints, shot.Pointer))
			sheet.Panels = append(sheet.Panels, Panel{
				Picture: picture, Caption: shot.Caption + ": " + side.caption,
				Note: fmt.Sprintf("%.0f cm² of its skin compressed by more than %s", 1e4*squeezedArea(squeezed, areas, counted), Percent(SqueezeLimit)),
			})
		}
	}
	return sheet.Compose()
}

// ends are the places of the bone's joints, which the source and the split character
// both have.
func (s *TwistShot) ends(e *asset.Evaluator, world []mgl64.Mat4) (root, end r3.Vec) {
	place := func(name string) r3.Vec { return rest.VecFromMgl64(world[e.Node(name)].Col(3).Vec3()) }
	return place(s.Bone[0]), place(s.Bone[1])
}

// inside tells which triangles are the limb's by half at least at each corner.
func inside(atRest []r3.Vec, triangles [][3]int, within func(r3.Vec) float64) []bool {
	out := make([]bool, len(triangles))
	for i, t := range triangles {
		out[i] = within(atRest[t[0]]) >= 0.5 && within(atRest[t[1]]) >= 0.5 && within(atRest[t[2]]) >= 0.5
	}
	return out
}
