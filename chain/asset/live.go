package asset

import (
	"slices"

	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Live says whether a split writes constraints that turn the segments without a
// clip, in any program that knows VRMC_node_constraint 1.0.
type Live int

const (
	// NotLive writes none.
	NotLive Live = iota
	// LiveBesideClips writes them, and bakes clips for programs that do not know
	// the extension; those that do turn the segments after a clip has.
	LiveBesideClips
	// LiveInsteadOfClips bakes nothing for limbs that are live.
	LiveInsteadOfClips
)

// liveName is the extension: an open standard, in the repository of the VRM
// specification. It knows three constraints, each with a weight from 0 to 1: roll
// takes over the twist of a source, aim points an axis at one by the smallest
// rotation, rotation takes over all of a source's rotation.
const liveName = "VRMC_node_constraint"

// liveness is what becomes of a limb that is to be live.
type liveness struct {
	written bool
	why     string        // it is not
	nearest *NearestField // that can be, or is
}

// live looks whether the standard can express a limb, or else what comes nearest,
// and puts that in its place where it is wanted.
func (d *finder) live(l *limb, nearest bool) (*limb, error) {
	l.live = &liveness{why: d.whyNotLive(l)}
	if l.live.why == isTable {
		if l.live.nearest = l.nearestField(); l.live.nearest == nil {
			l.live.why += "; none of these has a swing everywhere in its range of motion"
		}
	}
	if n := l.live.nearest; nearest && n != nil {
		spec := l.spec
		spec.Field, spec.Centre = FieldCentred, Centre{Direction: &n.Centre}
		centred, err := d.limb(spec)
		if err != nil {
			return nil, err
		}
		l, centred.live = centred, &liveness{nearest: n}
	}
	if l.live.why == "" {
		l.live.written = true
		// The standard has only X, Y and Z to turn about.
		l.column, l.turn = alongAxis(l.axis)
	}
	return l, nil
}

// addLive writes the constraints. Each is worked out by the words of the standard
// in live_test.go and by an implementation of it in .ci/node.
func (s *splitter) addLive() error {
	var written bool
	for _, l := range s.limbs {
		if !l.isLive() {
			continue
		}
		written = true
		add := s.liveOwn
		if l.spec.Twist == TwistTip {
			add = s.liveTip
		}
		if err := add(l); err != nil {
			return err
		}
	}
	if written {
		return s.patch.use(liveName)
	}
	return nil
}

func (l *limb) isLive() bool { return l.live != nil && l.live.written }

// liveTip: a segment rolls with the tip, by its share. A roll is the twist of the
// source's rotation from rest, seen from the parent that both have.
func (s *splitter) liveTip(l *limb) error {
	tip, err := s.file.node(l.spec.Tip)
	if err != nil {
		return err
	}
	for i, seg := range l.segments {
		if !seg.moves {
			continue
		}
		roll := constraint("roll", map[string]any{"source": tip, "rollAxis": axisNames[l.column], "weight": l.shares[i][1]})
		if err := s.constrain(seg.node, roll); err != nil {
			return err
		}
	}
	return nil
}

// liveOwn: a frame beside the joint is aimed along the bone, which turns it by the
// swing alone. Another one, below the joint, is aimed at that frame's side; both
// point along the bone, so it turns about the bone, back by all of the joint's
// twist. A segment takes over as much of that rotation as it is not to keep.
//
// A plain swing is one aim. One by way of a centre is two: the frame stands in
// another one, which is aimed at the centre, and so starts towards the bone from
// there. The first aim has a target that stays; without constraints neither turns,
// and rest is as it was.
func (s *splitter) liveOwn(l *limb) error {
	parent, own := s.file.parent[l.joint], s.source.rest[l.joint]
	var along, side [3]float64
	along[l.column] = r3.Dot(rest.Frame{Rotation: l.turn}.Direction(column(l.column)), l.axis) // 1 or -1
	side[(l.column+1)%3] = l.length

	end, err := s.addBeside(l, "end", l.joint, newNode{at: array(r3.Scale(l.length, l.axis))})
	if err != nil {
		return err
	}
	// In the parent's frame, where the joint rests; turned like the segments.
	hangs, frame := parent, newNode{at: own.translation, turn: quat.Mul(own.rotation, l.turn)}
	if l.field == FieldCentred {
		towards := rest.Frame{Rotation: own.rotation}.Direction(l.solver.Centre())
		centre, err := s.addBeside(l, "centre", parent, newNode{at: array(r3.Add(vec(own.translation), r3.Scale(l.length, towards)))})
		if err != nil {
			return err
		}
		frame.constraint = aim(along, centre)
		if hangs, err = s.addBeside(l, "middle", parent, frame); err != nil {
			return err
		}
		frame = newNode{}
	}
	frame.constraint = aim(along, end)
	swing, err := s.addBeside(l, "swing", hangs, frame)
	if err != nil {
		return err
	}
	beside, err := s.addBeside(l, "side", swing, newNode{at: side})
	if err != nil {
		return err
	}
	back, err := s.addBeside(l, "untwist", l.joint, newNode{turn: l.turn, constraint: aim(side, beside)})
	if err != nil {
		return err
	}
	for i, seg := range l.segments {
		if !seg.moves {
			continue
		}
		follow := constraint("rotation", map[string]any{"source": back, "weight": -l.shares[i][0]})
		if err := s.constrain(seg.node, follow); err != nil {
			return err
		}
	}
	return nil
}

var axisNames = [3]string{"X", "Y", "Z"}

// aim points the axis that a vector lies along at a node.
func aim(along [3]float64, source int) object {
	axis := slices.IndexFunc(along[:], func(x float64) bool { return x != 0 })
	sign := "Positive"
	if along[axis] < 0 {
		sign = "Negative"
	}
	return constraint("aim", map[string]any{"source": source, "aimAxis": sign + axisNames[axis], "weight": 1})
}

func column(i int) r3.Vec {
	var v [3]float64
	v[i] = 1
	return vec(v)
}

func vec(v [3]float64) r3.Vec   { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }
func array(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
