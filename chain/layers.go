package chain

import (
	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Layer is one step in orienting a limb. Layers work in order, each on what
// the ones before it left, starting from the limb at rest. What comes out is
// the limb without its ramped twist: the frame whose rotation all segments
// share.
type Layer int

const (
	// FollowAnchor takes the anchor's rotation, through the offset the two had
	// at rest, and forgets what the layers before it did. It hands down no
	// scale. Without it the root end wrings whenever the torso turns.
	FollowAnchor Layer = iota + 1
	// FollowJoint takes the joint's own rotation, twist and all: for segments
	// that are to follow their joint whole.
	FollowJoint
	// AimEnd adds the smallest rotation that points the long axis where the
	// joint points it, by the limb's field. It has to come after a
	// follow: a follow after it undoes it, and the end of the limb flops.
	AimEnd
)

// DefaultLayers are follow first, aim second.
func DefaultLayers() []Layer { return []Layer{FollowAnchor, AimEnd} }

// orient runs the layers for one pose and returns a world rotation.
func (s *Solver) orient(p *Pose) quat.Number {
	now := s.jointRest
	for _, layer := range s.layers {
		switch layer {
		case FollowAnchor:
			now = s.followed(p)
		case FollowJoint:
			now = p.Joint.Unit()
		case AimEnd:
			now = s.aimed(now, p)
		}
	}
	return now
}

// followed is the anchor's rotation handed down through the rest offset.
func (s *Solver) followed(p *Pose) quat.Number {
	return steady.Product(p.Anchor.Unit(), s.anchorOffset)
}

// aimed points the long axis of a limb oriented by now where the joint points
// it, going by way of the centre.
func (s *Solver) aimed(now quat.Number, p *Pose) quat.Number {
	toJoint := steady.Product(quat.Conj(now), p.Joint.Unit())
	arc, _ := s.field.Swing(rotate(toJoint, s.axis))
	return steady.Product(now, arc)
}

func rotate(q quat.Number, v r3.Vec) r3.Vec {
	return rest.Frame{Rotation: q}.Direction(v)
}
