package asset

import (
	"sync"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/spatial/r3"
)

// LimbInfo is a limb of a limb file found in a character.
type LimbInfo struct {
	Spec       LimbSpec // with its defaults filled in
	Joint, Tip int      // nodes; Tip is -1 where the joint's own twist is ramped
	Axis       r3.Vec   // the bone's unit long axis in the joint's frame, inside its own scale
	Length     float64  // metres
	Root, End  r3.Vec   // of the bone, in the world at rest
	Anchor     int      // the node that the root end holds on to; -1 for the world

	// Solver is what Split makes the limb's solver from: chain.NewSolver of it has
	// the same answers to the bit. Its rest frames are seen from one common node.
	Solver chain.Limb

	Side int // 1 for a limb on the left, -1 on the right, 0 where nothing tells

	// Sense is 1, or -1 where the joint's own scale mirrors: a segment turns about
	// Axis by Sense times the solver's angle.
	Sense float64

	// RangeSpec is where Range comes from, as a limb file has it: a name, which is
	// RangeNone where there is no range or it was left aside, or limits. A range that
	// was fitted to clips is told as limits with their directions.
	RangeSpec Range

	// FieldName is the field that the limb bends by: shortest, centred, least_roll or balanced.
	FieldName string

	// Warnings are sentences about what may be meant and seldom is.
	Warnings []string

	// TurnAxis is the same direction outside that scale, where the joint's rotation
	// from rest stands: turned about it, as in JointTurns, the bone twists and points
	// where it did. It differs from Axis where the joint's own scale is uneven or
	// mirrors. Field, Range and the rotations that they are asked about are seen from
	// there too.
	TurnAxis r3.Vec

	// TipAxis is the same direction where the tip's rotation from rest stands,
	// outside the tip's own scale: a rotation of the tip about it is the twist that
	// the limb ramps, the other way round where what stands between joint and tip
	// mirrors. Zero without a tip, and where a scale of 0 leaves it no direction.
	TipAxis r3.Vec

	// Field is the field of swings that the limb bends by, in the frame in
	// which the joint's rotation from rest is measured.
	Field *swing.Field

	// Range is the joint's range of motion in the frame in which its rotation
	// from rest is measured: that of its parent at rest, turned as the joint
	// is. Zero where it is not known.
	Range chain.Range
}

// Resolved is the limb with its range of motion and its field as they were found, so that
// it is the same limb in other files of the character, whatever clips those have. Axes of
// joints at rest have to be the same.
func (l LimbInfo) Resolved() LimbSpec {
	return l.Spec.settled(l.RangeSpec, l.FieldName)
}

// settled is the limb with the range and the field that were found for it.
func (s LimbSpec) settled(motion Range, field string) LimbSpec {
	if s.Twist == TwistTip {
		return s
	}
	s.Range = motion
	if s.Centre.Direction == nil { // which says it all, and a field might not go with it
		s.Field = field
	}
	return s
}

// Resolve finds limbs in a character: those of specs or, where that is nil,
// those that Detect proposes. Errors are those that Split has.
func Resolve(f *File, specs []LimbSpec) ([]LimbInfo, error) {
	if specs == nil {
		detected, err := Detect(f)
		if err != nil {
			return nil, err
		}
		specs = detected.Limbs
	}
	e, err := f.Evaluator()
	if err != nil {
		return nil, err
	}
	find := newFinder(f, e, DefaultNames)
	var out []LimbInfo
	for _, spec := range specs {
		l, err := find.limb(spec)
		if err != nil {
			return nil, err
		}
		if l.spec.Exclude != nil || l.spec.Rigid != nil { // names that only the character knows
			if err := find.setPieces(l); err != nil {
				return nil, err
			}
		}
		info := LimbInfo{
			Spec: l.spec, Joint: l.joint, Tip: -1, Axis: l.axis, TurnAxis: l.solver.Axis(), Length: l.metres, Range: l.solver.Range(), Field: l.solver.Field(),
			Anchor: l.anchor, Solver: l.made, Side: find.sideOf(l), Sense: l.sense, RangeSpec: l.motion, FieldName: l.field, Warnings: find.warnings(l),
		}
		if l.spec.Twist == TwistTip {
			if info.Tip, info.TipAxis, err = find.tipAxis(l); err != nil {
				return nil, err
			}
		}
		inWorld := func(v r3.Vec) r3.Vec {
			return rest.VecFromMgl64(mgl64.TransformCoordinate(rest.VecToMgl64(v), find.world[l.joint]))
		}
		info.Root, info.End = inWorld(r3.Vec{}), inWorld(r3.Scale(l.length, l.axis))
		out = append(out, info)
	}
	return out, nil
}

// tipAxis is the tip of a limb and the bone's direction where the tip's rotation from
// rest stands; zero where a scale of 0 leaves it none.
func (d *finder) tipAxis(l *limb) (tip int, axis r3.Vec, err error) {
	if tip, err = d.node(l.spec.Tip); err != nil {
		return -1, r3.Vec{}, err
	}
	between := l.tipTurn.frame(nil, 0)
	between.SetCol(3, mgl64.Vec4{0, 0, 0, 1}) // directions only
	if at := rest.VecFromMgl64(seenFrom(between, rest.VecToMgl64(l.axis))); r3.Norm(at) > 0 {
		axis = r3.Unit(at)
	}
	return tip, axis, nil
}

// newFinder makes a finder of a file, whose names are not taken yet.
func newFinder(f *File, e *Evaluator, names string) finder {
	find := finder{file: f, poses: e.poses, world: e.World(Rest, 0), clips: e.clips, names: names, all: sync.OnceValues(e.pieces), binds: e.binds, taken: map[string]int{}, limbs: map[int]string{}}
	for i, n := range f.Doc.Nodes {
		find.taken[n.Name] = i
	}
	return find
}
