package asset

import (
	"fmt"
	"slices"

	"github.com/qmuntal/gltf"
	"gonum.org/v1/gonum/spatial/r3"
)

// whyNotLive says why the standard cannot express a limb, to be read after its
// name; empty where it can.
//
// Constraints see rotations of nodes relative to their own parents, and places in
// the world. So a tip has to be the joint's own child and the anchor its own
// parent, the joint has to stay where it rests in the parent, and nothing above may
// stretch directions.
func (d *finder) whyNotLive(l *limb) string {
	switch {
	case l.spec.Stretch != nil || l.spec.Crease != nil:
		return "it stretches or is eased out of a fold, and constraints of the standard only turn"
	case !l.ramps():
		return "its shares leave every segment as the joint is, and nothing has to turn"
	case d.anyPosed(l.ways()...):
		return "the nodes stand otherwise than in the bind pose, and constraints take the nodes' pose for rest"
	case d.rest[l.joint].matrix != nil:
		return "its joint has a matrix, expected translation, rotation and scale"
	case l.scaled || l.jointTurn.skewed || l.anchorTurn.skewed || l.tipTurn.skewed:
		return "an uneven or mirroring scale, or one that a clip changes, stands between its joints"
	case l.spec.Twist == TwistTip && len(l.tipTurn.way) != 1:
		return fmt.Sprintf("%q is not a child of %q, and a roll follows its source's rotation in its own parent", l.spec.Tip, l.spec.Joint)
	case l.spec.Twist == TwistTip:
		return ""
	case d.file.parent[l.joint] < 0:
		return "its joint has no parent, in which a frame could be aimed"
	case len(l.anchorTurn.way) != 0 || len(l.jointTurn.way) != 1:
		return "its anchor is not the joint's parent, and what stands between them could turn"
	}
	// Scales that make up for one another at rest do not in other poses.
	for node := d.file.parent[l.joint]; node >= 0; node = d.file.parent[node] {
		if x := d.own[node]; !x.isUniform() || x.matrix != nil && (!isEven(x.matrix.Mat3()) || x.matrix.Mat3().Det() < 0) {
			return fmt.Sprintf("%q above it has an uneven or mirroring scale, in which aims do not keep directions", d.file.ref(node))
		}
	}
	for i := range d.clips {
		if why := d.movesIn(l, &d.clips[i]); why != "" {
			return why
		}
	}
	if l.solver.Field().IsCorrected() {
		return isTable
	}
	return ""
}

// ramps reports whether any segment turns against the joint.
func (l *limb) ramps() bool {
	own, tip := l.solver.Shares()
	return slices.ContainsFunc(own, func(k float64) bool { return k != 1 }) || slices.ContainsFunc(tip, func(m float64) bool { return m != 0 })
}

const isTable = "it bends by a field that is a table, least_roll or balanced, and constraints can express shortest and centred ones"

// stays is how far a joint may leave its place at rest and still be taken to stand
// there, in lengths of its bone: an aim is off by as many radians, and float32
// coordinates are no better.
const stays = 1e-6

// movesIn says how a clip moves a limb's joint in its parent, or stretches what is
// above it.
func (d *finder) movesIn(l *limb, c *clip) string {
	for node := l.joint; node >= 0; node = d.file.parent[node] {
		tracks := c.nodes[node]
		if tracks == nil || tracks.scale == nil {
			continue
		}
		if !tracks.scale.keeps(func(s []float64) bool { return (transform{scale: [3]float64(s)}).isUniform() }) {
			return fmt.Sprintf("clip %q scales %q, or what is above it, unevenly", c.name, l.spec.Joint)
		}
	}
	tracks, own := c.nodes[l.joint], d.rest[l.joint]
	if tracks == nil || tracks.translation == nil {
		return ""
	}
	bone := l.length * own.scale[0] // in the parent's units
	near := func(at []float64) bool {
		return r3.Norm(r3.Sub(vec([3]float64(at)), vec(own.translation))) <= stays*bone
	}
	if !tracks.translation.keeps(near) {
		return fmt.Sprintf("clip %q moves its joint in the joint's parent", c.name)
	}
	return ""
}

// keeps reports whether all keys of a track are of a kind, and what is between them
// is too: the tangents of a spline are 0.
func (k *track) keeps(kind func(value []float64) bool) bool {
	for key := range k.times {
		if !kind(k.value(key)) {
			return false
		}
	}
	if k.interpolation != gltf.InterpolationCubicSpline {
		return true
	}
	for i, x := range k.values {
		if isTangent := i/k.width%3 != 1; isTangent && x != 0 {
			return false
		}
	}
	return true
}
