package chain

import (
	"slices"

	"github.com/pronate/pronate/internal/kernel"
	"github.com/pronate/pronate/internal/steady"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// MinCondition is the condition below which a twist counts as undefined.
const MinCondition = twist.MinCondition

// Solver solves one limb, pose by pose. It is read only: any number of
// goroutines may use one at a time. [NewSolver] makes it; the zero value is of no
// use.
type Solver struct {
	axis         r3.Vec    // unit, in the joint's rest frame
	own          []float64 // k_i - 1
	tip          []float64 // m_i; nil where no tip drives the limb
	law          *kernel.Law[float64]
	single       *kernel.Law[float32]
	length       float64
	jointRest    quat.Number // the joint's world rotation at rest
	anchorOffset quat.Number // anchor rest^-1 · joint rest
	tipOffset    quat.Number // joint rest^-1 · tip rest
	bending                  // in the joint's rest frame
	motion       Range       // the joint's range there; zero where it is not known
	layers       []Layer     // nil where they are the default ones
}

// Result is what a solve learns about the pose besides the segments.
type Result struct {
	Twist        float64 // tau, the joint's own twist, radians in (-pi, pi]
	TipTwist     float64 // sigma, the tip's twist about the limb's axis, radians in (-pi, pi]; 0 without tip shares
	Condition    float64 // cos of half the swing away from the centre, 0 to 1: errors of Twist grow with 1/Condition
	TipCondition float64 // the same of the tip's swing away from the long axis; 1 without tip shares
	Defined      bool    // false where a twist is undefined (a half-turn swing, or a zero rotation); it is then taken as 0
}

// NewSolver checks the specification. The error names the limb and the field.
func NewSolver(l Limb) (*Solver, error) {
	axis, err := l.checkedAxis()
	if err != nil {
		return nil, err
	}
	own, tip, err := l.checkedShares()
	if err != nil {
		return nil, err
	}
	if !(l.Length >= 0 && l.Length*0 == 0) { // NaN and Inf too
		return nil, l.errorf("length is %g, expected a finite number of metres, 0 or more", l.Length)
	}
	layers, err := l.checkedLayers()
	if err != nil {
		return nil, err
	}
	for _, frame := range []struct {
		field string
		rest.Frame
	}{{"anchor", l.AnchorRest}, {"joint", l.JointRest}, {"tip", l.TipRest}} {
		if p, q := frame.Position, frame.Unit(); (p.X+p.Y+p.Z+q.Real)*0 != 0 { // only NaN and Inf leave 0 behind
			return nil, l.errorf("%s rest frame is not finite", frame.field)
		}
	}
	s := &Solver{
		length:       l.Length,
		jointRest:    l.JointRest.Unit(),
		anchorOffset: rest.Offset(l.AnchorRest, l.JointRest).Unit(),
		tipOffset:    rest.Offset(l.JointRest, l.TipRest).Unit(),
		layers:       layers,
	}
	s.bending, err = l.bendingOf(axis, quat.Conj(s.anchorOffset))
	if err != nil {
		return nil, err
	}
	shortest, err := swing.NewField(axis, axis)
	if err != nil {
		return nil, err
	}
	keep := make([]float64, len(own))
	for i, k := range own {
		keep[i] = k - 1
	}
	if !l.Range.IsZero() {
		s.motion = l.Range.turned(quat.Conj(s.anchorOffset))
	}
	s.axis, s.own, s.tip = axis, keep, slices.Clone(tip)
	s.law = kernel.NewLaw[float64](axis, s.own, s.tip, s.field, shortest)
	s.single = kernel.NewLaw[float32](axis, s.own, s.tip, s.field, shortest)
	return s, nil
}

// checkedLayers returns nil for the default layers.
func (l *Limb) checkedLayers() ([]Layer, error) {
	if l.Layers == nil || slices.Equal(l.Layers, DefaultLayers()) {
		return nil, nil
	}
	for i, layer := range l.Layers {
		if layer < FollowAnchor || layer > AimEnd {
			return nil, l.errorf("layers[%d] is %d, expected FollowAnchor, FollowJoint or AimEnd", i, layer)
		}
	}
	return slices.Clone(l.Layers), nil
}

// Segments is how many rotations a solve writes.
func (s *Solver) Segments() int { return len(s.own) }

// Shares returns the shares k_i of the joint's own twist, as k_i - 1 plus 1, and
// copies of the m_i of the tip's; tip is nil where no tip drives the limb.
func (s *Solver) Shares() (own, tip []float64) {
	own = slices.Clone(s.own)
	for i := range own {
		own[i]++
	}
	return own, slices.Clone(s.tip)
}

// Axis is the unit long axis in the joint's rest frame.
func (s *Solver) Axis() r3.Vec { return s.axis }

// Centre is the unit direction the swing goes by way of, in the joint's rest
// frame; the Axis itself for a shortest one.
func (s *Solver) Centre() r3.Vec { return s.field.Centre() }

// Range is the joint's range of motion in the joint's rest frame; zero where
// the limb has none.
func (s *Solver) Range() Range { return s.motion }

// Field is the field of swings that the limb bends by, in the joint's rest
// frame.
func (s *Solver) Field() *swing.Field { return s.field }

// FieldKind is which field that is: Shortest, Centred, LeastRoll or Balanced.
func (s *Solver) FieldKind() Field { return s.kind }

// FellBack is why a limb of [AnyField] bends by the shortest arc though its range is
// known and its centre left to that: there is no balanced field over it. It is nil
// for all other limbs.
func (s *Solver) FellBack() error { return s.fellBack }

// Solve writes the segments' rotations in the joint's frame to dst, which has
// Segments() elements (anything else panics): pure rotations about the long
// axis by (k_i - 1) tau + m_i sigma, each with a real part >= 0.
//
// joint is the joint's rotation from rest in its own rest frame: with parent
// rotations L at rest and L' now, L^-1 L'. tip is the tip joint's rotation from
// rest, in the joint's frame; without tip shares it is not read.
//
// Error: 4e-15 per component, beyond the conditioning of the twist itself, 8
// eps/Condition radians.
func (s *Solver) Solve(dst []quat.Number, joint, tip quat.Number) Result {
	s.check(len(dst))
	var own, far kernel.Twist[float64]
	s.split(&own, &far, joint, tip)
	s.law.Solve(kernel.Arrays(dst), &own, &far)
	return result(&own, &far)
}

// Angles writes the angle alpha_i by which each segment turns about the long
// axis in the joint's frame, in radians within (-2 pi, 2 pi); otherwise it is
// [Solver.Solve].
func (s *Solver) Angles(dst []float64, joint, tip quat.Number) Result {
	s.check(len(dst))
	var own, far kernel.Twist[float64]
	s.split(&own, &far, joint, tip)
	s.law.Angles(dst, &own, &far)
	return result(&own, &far)
}

// SolveFromRest is [Solver.Solve] with the segments as rotations from rest, in the
// joint's rest frame: joint · the axial rotation, which is s · rot(a, k_i tau +
// m_i sigma).
func (s *Solver) SolveFromRest(dst []quat.Number, joint, tip quat.Number) Result {
	r := s.Solve(dst, joint, tip)
	unit := rest.Frame{Rotation: joint}.Unit()
	for i := range dst {
		dst[i] = steady.Product(unit, dst[i])
	}
	return r
}

// Swing is the swing s of the pose that gave r: joint, the rotation from rest that
// [Solver.Solve] took, with its twist taken out. It is unit to 4e-15 per component.
func (s *Solver) Swing(joint quat.Number, r Result) quat.Number {
	return steady.Product(rest.Frame{Rotation: joint}.Unit(), s.about(-r.Twist))
}

// split measures the twists of a pose.
func (s *Solver) split(own, far *kernel.Twist[float64], joint, tip quat.Number) {
	s.law.Split(own, far,
		&[4]float64{joint.Real, joint.Imag, joint.Jmag, joint.Kmag},
		&[4]float64{tip.Real, tip.Imag, tip.Jmag, tip.Kmag})
}

func (s *Solver) check(n int) {
	if n != len(s.own) {
		panic("chain: dst has another length than the limb has segments")
	}
}

func result(own, far *kernel.Twist[float64]) Result {
	return Result{
		Twist: 2 * own.Half, TipTwist: 2 * far.Half,
		Condition: own.Condition, TipCondition: far.Condition, Defined: own.Defined && far.Defined,
	}
}
