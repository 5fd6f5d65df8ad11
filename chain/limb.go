package chain

import (
	"fmt"

	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/spatial/r3"
)

// Twist says which twist a limb ramps along its segments.
type Twist int

const (
	// Own ramps the joint's own twist: none of it at the root, all of it at
	// the end. For thighs and upper arms.
	Own Twist = iota
	// Tip keeps the joint's own twist whole and ramps the twist of the joint
	// at the tip: none at the root, all of it at the tip. For forearms.
	Tip
)

// Ramp says how shares grow from 0 at the root to 1 at the end.
type Ramp int

const (
	Linear Ramp = iota // i/(n-1)
	Smooth             // 3x^2 - 2x^3 of that: level at both ends
)

// Segment counts that make sense: one segment cannot ramp anything, and past
// 32 a bone's weights are thinner than a mesh's vertices are dense.
const (
	MinSegments = 2
	MaxSegments = 32
)

// Limb is the specification of one split bone. It is a plain value: [NewSolver]
// copies what it needs and the solver never looks back. The zero value is a
// bone along +Y, split into two segments that ramp the joint's own twist
// linearly, with every rest frame the identity.
type Limb struct {
	Name   string  // for error messages
	Axis   r3.Vec  // long axis in the joint's frame at rest, any non-zero length; zero means +Y
	Length float64 // metres, of the bone; places segments in SolveWorld; 0 puts all of them at the joint

	Segments int   // 0 means as many as there are shares, or 2
	Twist    Twist // which twist is ramped
	Ramp     Ramp  // how, where no list is given

	// Shares are the k_i, the part of the joint's own twist each segment
	// keeps, and TipShares the m_i, the part of the tip's twist it takes, each
	// 0 to 1. nil leaves them to Twist and Ramp.
	Shares, TipShares []float64

	Field  Field  // which swings the segments share
	Centre Centre // where the swing has its centre
	Range  Range  // the joint's range of motion, for a Centre that is Auto and for fields that are solved for

	// World frames in the rest pose: of the anchor that holds the root end, of
	// the joint whose bone is split, and of the joint at the tip. Their axes
	// may have nothing to do with one another or with the bone.
	AnchorRest, JointRest, TipRest rest.Frame

	// Layers orient the limb before its twist is measured; nil means
	// DefaultLayers. See Layer. SolveWorld alone reads them.
	Layers []Layer
}

// checkedAxis returns the unit long axis.
func (l *Limb) checkedAxis() (r3.Vec, error) {
	if l.Axis == (r3.Vec{}) {
		return r3.Vec{Y: 1}, nil
	}
	return l.unit("axis", l.Axis)
}

// unit returns v at length 1, or an error that names the field.
func (l *Limb) unit(field string, v r3.Vec) (r3.Vec, error) {
	u, k := steady.Unit(v)
	if k != steady.Proper {
		return v, l.errorf("%s is [%g, %g, %g], expected a finite direction of non-zero length", field, v.X, v.Y, v.Z)
	}
	return u, nil
}

// checkedShares returns the own and the tip shares; tip is nil where no tip
// drives the limb.
func (l *Limb) checkedShares() (own, tip []float64, err error) {
	n, err := l.count()
	if err != nil {
		return nil, nil, err
	}
	ramp := twist.Linear
	switch l.Ramp {
	case Linear:
	case Smooth:
		ramp = twist.Smooth
	default:
		return nil, nil, l.errorf("ramp is %d, expected Linear or Smooth", l.Ramp)
	}
	own, tip = l.Shares, l.TipShares
	switch l.Twist {
	case Own:
		if own == nil {
			own = ramp(n)
		}
	case Tip:
		if own == nil {
			own = whole(n)
		}
		if tip == nil {
			tip = ramp(n)
		}
	default:
		return nil, nil, l.errorf("twist is %d, expected Own or Tip", l.Twist)
	}
	if err := twist.CheckShares(own, n); err != nil {
		return nil, nil, l.errorf("shares: %w", err)
	}
	if tip != nil {
		if err := twist.CheckShares(tip, n); err != nil {
			return nil, nil, l.errorf("tip shares: %w", err)
		}
	}
	return own, tip, nil
}

// count is the number of segments the limb asks for.
func (l *Limb) count() (int, error) {
	n := l.Segments
	if n == 0 {
		n = max(len(l.Shares), len(l.TipShares))
	}
	if n == 0 {
		n = MinSegments
	}
	if n < MinSegments || n > MaxSegments {
		return 0, l.errorf("segments is %d, expected %d to %d", n, MinSegments, MaxSegments)
	}
	return n, nil
}

// whole is the shares of a limb that keeps all of its own twist.
func whole(n int) []float64 {
	shares := make([]float64, n)
	for i := range shares {
		shares[i] = 1
	}
	return shares
}

// errorf names the limb, where it has a name.
func (l *Limb) errorf(format string, args ...any) error {
	if l.Name == "" {
		return fmt.Errorf("chain: limb: "+format, args...)
	}
	return fmt.Errorf("chain: limb %q: "+format, append([]any{l.Name}, args...)...)
}
