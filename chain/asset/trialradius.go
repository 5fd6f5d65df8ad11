package asset

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// sectionStations is how many sections a limb is cut into.
const sectionStations = 17

// cut cuts the limb into sections, at rest.
func (t *trials) cut(s *subject) {
	palette := t.palette(nil, t.find.world)
	atRest := make([]r3.Vec, len(s.skin.positions))
	s.skin.pose(atRest, &s.skin.source, palette)
	end := mgl64.TransformCoordinate(rest.VecToMgl64(r3.Scale(s.limb.length, s.limb.axis)), t.find.world[s.limb.joint])
	bone := skin.Bone{Root: rest.VecFromMgl64(t.find.world[s.limb.joint].Col(3).Vec3()), End: rest.VecFromMgl64(end)}
	stations := make([]float64, sectionStations)
	for i := range stations {
		stations[i] = float64(i) / (sectionStations - 1)
	}
	// A limb that cannot be cut is judged by its strain alone.
	s.sections, _ = skin.NewSections(skin.Mesh{Positions: atRest, Triangles: s.skin.triangles}, nil, bone, stations)
	if s.sections != nil && math.IsNaN(s.radius(atRest)) {
		s.sections = nil
	}
}

// radius is the least radius of the limb's sections, as a part of that at rest; NaN
// where no section goes round the bone.
func (s *subject) radius(posed []r3.Vec) float64 {
	least := math.NaN()
	for _, section := range s.sections.Measure(nil, posed, quat.Number{Real: 1}) {
		if !math.IsNaN(section.Radius) && !(section.Radius >= least) {
			least = section.Radius
		}
	}
	return least
}

// radiusAt is the least radius under a twist of the limb alone.
func (t *trials) radiusAt(s *subject, p plan, angle float64) (float64, error) {
	l, err := t.as(s, p)
	if err != nil {
		return 0, err
	}
	held := t.weights(s, []*limb{l})
	world := t.find.world
	twists := [2]float64{angle, 0}
	if l.usesTip {
		twists = [2]float64{0, angle}
	}
	// The joint itself turns with its own twist, and all that hangs on it.
	turned := make([]mgl64.Mat4, len(world))
	copy(turned, world)
	turn := rest.Frame{Rotation: twist.About(l.axis, l.sense*angle)}.Mat4()
	moved := world[l.joint].Mul4(turn).Mul4(world[l.joint].Inv())
	for node := range turned {
		below := node != l.joint && t.file.isAncestor(l.joint, node)
		if below || node == l.joint && !l.usesTip {
			turned[node] = moved.Mul4(world[node])
		}
	}
	palette := t.segmentMatrices(t.palette(nil, turned), l, turned, twists)
	posed := make([]r3.Vec, len(s.skin.positions))
	s.skin.pose(posed, &held, palette)
	return s.radius(posed), nil
}
