package check

import (
	"fmt"
	"math"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// stations is how many sections a limb is cut into.
const stations = 33

// gauge measures one limb. It is read only.
type gauge struct {
	marks    []bool // the triangles that the limb's joint holds
	sections *skin.Sections
	volume   *skin.Volume
}

// newGauge cuts the limb at rest: the triangles that lean on its joint.
func newGauge(m skin.Mesh, l asset.LimbInfo) (*gauge, error) {
	bone := skin.Bone{Root: l.Root, End: l.End}
	marks := m.TrianglesOf(nil, l.Joint)
	places := make([]float64, stations)
	for i := range places {
		places[i] = float64(i) / (stations - 1)
	}
	sections, err := skin.NewSections(m, marks, bone, places)
	if err != nil {
		return nil, fmt.Errorf("limb %q: %w", l.Spec.Name, err)
	}
	volume, err := skin.NewVolume(m, marks, bone, 0, 1)
	if err != nil {
		return nil, fmt.Errorf("limb %q: %w", l.Spec.Name, err)
	}
	return &gauge{marks: marks, sections: sections, volume: volume}, nil
}

// What no skin does: a volume that is gone, turned inside out or more than three
// times what it was, and skin that turns by more than half a turn within a tenth
// of the bone. Such figures come of meshes that cannot be cut or closed well.
const (
	mostVolume   = 3
	mostSteepest = 180 // degrees
)

// measure is what is left of the limb in a posed mesh.
func (g *gauge) measure(posed []r3.Vec) Loss {
	loss := Loss{Sections: g.sections.Measure(nil, posed, quat.Number{Real: 1}), Steepest: math.NaN()}
	loss.Radius, loss.At = minimumRadius(loss.Sections)
	if loss.Volume = g.volume.Ratio(posed); !(loss.Volume > 0 && loss.Volume <= mostVolume) {
		loss.Volume = math.NaN()
	}
	for _, density := range skin.TwistDensity(nil, loss.Sections) {
		steep := math.Abs(density) * 0.1 * g.sections.Bone().Length() * 180 / math.Pi
		if !(steep <= loss.Steepest) && isNumber(steep) {
			loss.Steepest = steep
		}
	}
	if loss.Steepest > mostSteepest {
		loss.Steepest = math.NaN()
	}
	return loss
}

// minimumRadius is the least of the sections' radii, and where it is; NaN at 0 for a
// limb that no section goes round.
func minimumRadius(sections []skin.Section) (radius, at float64) {
	radius = math.Inf(1)
	for _, s := range sections {
		if s.Radius < radius {
			radius, at = s.Radius, s.Station
		}
	}
	if math.IsInf(radius, 1) {
		return math.NaN(), 0
	}
	return radius, at
}

// cutFrom is where along the bone the first and the last section go round it, of
// the limb at rest.
func (g *gauge) cutFrom(atRest []r3.Vec) (from, to float64) {
	first := true
	for _, s := range g.sections.Measure(nil, atRest, quat.Number{Real: 1}) {
		if s.Loops == 0 {
			continue
		}
		if first {
			from, first = s.Station, false
		}
		to = s.Station
	}
	return from, to
}
