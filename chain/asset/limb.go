package asset

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// limb is a limb of the limb file, found in a character and ready to solve.
type limb struct {
	spec   LimbSpec
	field  string // of swings: shortest, centred, least_roll or balanced
	motion Range  // of the joint, as a limb file has it: a name, or limits where it was fitted
	joint  int
	anchor int     // -1 where the root end holds on to the world
	axis   r3.Vec  // unit, in the joint's frame
	sense  float64 // 1, or -1 where the joint's own scale mirrors that frame
	scaled bool    // whether that scale is uneven at all
	length float64 // in the joint's own units
	metres float64
	solver *chain.Solver
	made   chain.Limb // what the solver was made from
	measure
	base string    // of the names of what the split adds
	live *liveness // nil where it is not asked for
	note string    // what is to be said of the limb as it rests; empty for nothing

	shares, leading []share // of the segments, and of those that decide where keys go

	usesOwn, usesTip bool // whether any segment's angle depends on that twist
	anchorTurn       turner
	jointTurn        turner
	tipTurn          turner // from the joint down; empty without a tip

	stretching *stretching // nil where the segments do not stretch
	creasing   *creasing   // nil where they are not eased out of a fold
	column     int         // of a segment's axes, the one along the bone
	turn       quat.Number // of the segments at rest, in the joint's frame; zero is none
	shape      shapeFigures

	frames map[int]boneFrame       // by skin: the bone in it
	pieces []limbPiece             // of the skin, that have weight on the joint
	rules  map[piecePart]pieceRule // what becomes of that weight; none: it is split

	segments []segment
	twists   []float64 // radians, the most in each clip
	keyed    []bool    // whether a clip turns what the twist depends on
}

// segment is one of the joints that take the split joint's place in the skin.
type segment struct {
	name  string
	node  int
	at    [3]float32 // in the joint's frame, as it is bound; float32, as every reader will hold it
	moves bool       // false for a segment that always follows the joint

	// How its node stands in the joint's frame without a clip: turned, and shaped as
	// in shapeMotion.
	turn  quat.Number
	shape [shapeNumbers]float64
}

// finder resolves limb specifications against one file.
type finder struct {
	file *File
	*poses
	world []mgl64.Mat4
	clips []clip
	names string // template of segment names
	all   func() (*pieces, error)
	binds func(skin int) ([]mgl64.Mat4, error)
	limbs map[int]string // admitted, by joint
	bare  bool           // of a character of which no more is known: see LimbSpec.Solver
	taken map[string]int // names of nodes, and who has them: -1 for a new joint
}

func (d *finder) limb(spec LimbSpec) (*limb, error) {
	spec = spec.withDefaults()
	fail := func(key string, err error) error {
		field, _, _ := strings.Cut(key, " ")
		return spec.errorf(d.file, key, "%s: %s", field, ownWords(err, spec.Name))
	}
	if field, _, err := spec.check(); err != nil {
		return nil, spec.errorf(d.file, field, "%s %w", field, err)
	}
	l := &limb{spec: spec}
	var err error
	if l.joint, err = d.node(spec.Joint); err != nil {
		return nil, fail("joint", err)
	}
	end, err := d.end(l.joint, spec.End)
	if err != nil {
		return nil, fail("end", err)
	}
	if l.axis, l.length, err = rest.LongAxis(rest.Frame{}, end); err != nil {
		return nil, fail("end", err)
	}
	toWorld := d.world[l.joint]
	l.metres = toWorld.Mat3().Mul3x1(rest.VecToMgl64(end)).Len()
	if err := d.solver(l, fail); err != nil {
		return nil, err
	}
	if err := d.setStretch(l); err != nil {
		return nil, fail("stretch by", err)
	}
	if c := spec.Crease; c != nil && c.Most > l.metres/2 {
		return nil, fail("crease most_m", fmt.Errorf("most_m is %g m, expected %.3g m at most, half of the bone's length, %.3g m", c.Most, l.metres/2, l.metres))
	}
	if err := d.setCrease(l); err != nil {
		return nil, fail("crease", err)
	}
	return l, nil
}

// setPieces finds what the limb has of the skin, and decides what becomes of it.
func (d *finder) setPieces(l *limb) error {
	all, err := d.all()
	if err != nil {
		return err
	}
	if err := l.setFrames(d.file, d.binds); err != nil {
		return err
	}
	l.findPieces(all)
	return l.setRules(all)
}

// end is the far end of the bone in the joint's frame at rest.
func (d *finder) end(joint int, end End) (r3.Vec, error) {
	if end.Point != nil {
		return r3.Vec{X: end.Point[0], Y: end.Point[1], Z: end.Point[2]}, nil
	}
	node, err := d.node(end.Joint)
	if err != nil {
		return r3.Vec{}, err
	}
	if node == joint || !d.file.isAncestor(joint, node) {
		return r3.Vec{}, fmt.Errorf("%q is not below the joint, expected one of its descendants or a point", end.Joint)
	}
	return walk{d.file.down(joint, node), d.poses}.place(), nil
}

// solver sets up the chain.Solver and what feeds it.
func (d *finder) solver(l *limb, fail func(string, error) error) error {
	anchor := d.file.parent[l.joint]
	if l.spec.Anchor != "" {
		var err error
		if anchor, err = d.node(l.spec.Anchor); err != nil {
			return fail("anchor", err)
		}
		if d.file.isAncestor(l.joint, anchor) {
			return fail("anchor", fmt.Errorf("%q is the joint or below it, expected a joint that does not turn with it", l.spec.Anchor))
		}
	}
	toAnchor, toJoint := d.file.ways(anchor, l.joint)
	l.anchorTurn = d.file.turner(toAnchor, d.poses, d.clips)
	l.jointTurn = d.file.turner(toJoint, d.poses, d.clips)
	// The joint's own scale stands between its rotation and its frame: seen
	// from the rotation, the bone points elsewhere where that scale is uneven,
	// and what turns one way inside a mirrored frame turns the other way outside.
	outside := l.axis
	l.sense = 1
	if own := d.rest[l.joint]; !own.isUniform() || own.matrix != nil {
		l.scaled = true
		outside = own.outside(l.axis)
		if own.mat4().Mat3().Det() < 0 {
			l.sense = -1
		}
		if !(r3.Norm(outside) > 0) {
			return fail("joint", fmt.Errorf("its own scale leaves the bone no direction, expected one that is not 0 along it"))
		}
	}
	spec := chain.Limb{
		Name:       l.spec.Name,
		Axis:       outside,
		Length:     l.length,
		Segments:   l.spec.segments(),
		AnchorRest: rest.Frame{Rotation: l.anchorTurn.at(nil, 0)},
		JointRest:  rest.Frame{Rotation: l.jointTurn.at(nil, 0)},
	}
	shares := &spec.Shares
	if l.spec.Twist == TwistTip {
		tip, err := d.node(l.spec.Tip)
		if err != nil {
			return fail("tip", err)
		}
		if tip == l.joint || !d.file.isAncestor(l.joint, tip) {
			return fail("tip", fmt.Errorf("%q is not below the joint, expected one of its descendants", l.spec.Tip))
		}
		l.tipTurn = d.file.turner(d.file.down(l.joint, tip), d.poses, d.clips)
		spec.Twist = chain.Tip
		spec.TipRest = rest.Frame{Rotation: quat.Mul(spec.JointRest.Rotation, l.tipTurn.at(nil, 0))}
		shares = &spec.TipShares
	}
	if l.spec.Shares.Ramp == SharesSmooth {
		spec.Ramp = chain.Smooth
	}
	if l.spec.Shares.List != nil {
		*shares = l.spec.Shares.List
	}
	if key, err := d.setField(&spec, l, anchor); err != nil {
		return fail(key, err)
	}
	var err error
	if l.solver, err = chain.NewSolver(spec); err != nil {
		return fail(whyNoField(spec, err))
	}
	l.anchor, l.made = anchor, spec
	l.field = l.solver.FieldKind().String()
	if err := l.solver.FellBack(); err != nil && l.note == "" {
		why := strings.TrimPrefix(ownWords(err, spec.Name), "range: ")
		l.note = "the limb bends by the shortest arc, for another field fails: " + why
	}
	l.setShares()
	return l.setMeasure(spec)
}

// setShares reads the segments' shares off the solver.
func (l *limb) setShares() {
	own, tip := l.solver.Shares()
	l.shares = shares(own, tip)
	l.leading = leading(l.shares)
	for _, s := range l.shares {
		l.usesOwn = l.usesOwn || s[0] != 0
		l.usesTip = l.usesTip || s[1] != 0
	}
}

// name places and names the segments.
func (d *finder) name(l *limb) error {
	own, tip := l.solver.Shares()
	n := l.solver.Segments()
	l.base = cmp.Or(d.file.Doc.Nodes[l.joint].Name, "joint"+strconv.Itoa(l.joint))
	for i := range n {
		moves := own[i] != 1 || tip != nil && tip[i] != 0
		place := r3.Scale(l.length*float64(i)/float64(n), l.axis)
		s := segment{
			name:  segmentName(d.names, l.base, i+1),
			at:    [3]float32{float32(place.X), float32(place.Y), float32(place.Z)},
			moves: moves,
		}
		switch node, taken := d.taken[s.name]; {
		case taken && node < 0:
			return l.spec.errorf(d.file, "joint", "another limb makes a joint called %q too, expected joints with names of their own", s.name)
		case taken:
			return l.spec.errorf(d.file, "joint", "node %d is called %q already: has the character been split before?", node, s.name)
		}
		d.taken[s.name] = -1
		l.segments = append(l.segments, s)
	}
	return nil
}

// tracks are the channels of a clip that bear on the limb's segments.
func (l *limb) tracks(c *clip) []*track {
	var out []*track
	if l.usesOwn {
		out = append(out, l.anchorTurn.tracks(c)...)
		out = append(out, l.jointTurn.tracks(c)...)
	}
	if l.usesTip {
		out = append(out, l.tipTurn.tracks(c)...)
	}
	return out
}
