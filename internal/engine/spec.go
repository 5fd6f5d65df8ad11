package engine

import (
	"math"
	"strings"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Spec is how a limb is split, as pronate_limb_spec says it; see there. The zero
// value is a bone along +Y of two segments that ramp the joint's own twist
// linearly, in frames that are all the same at rest.
type Spec struct {
	Axis              [3]float64 // zero: +Y
	Segments          int        // 0: as many as there are shares, or 2
	Twist             chain.Twist
	Ramp              chain.Ramp
	Shares, TipShares []float64 // nil: by twist and ramp

	Field      chain.Field
	CentreMode chain.CentreMode
	Centre     [3]float64

	Range                    Range
	FlexionDeg, AbductionDeg [2]float64
	Down, Forward, Out       [3]float64

	AnchorRest, JointRest, TipRest [4]float64 // x, y, z, w of any length; zero: the identity
}

// Range is a joint's range of motion.
type Range int

const (
	RangeNone Range = iota
	RangeHip
	RangeShoulder
	RangeWrist
	RangeLimits // FlexionDeg and AbductionDeg
)

// New makes a limb. An error names the field at fault.
func New(s Spec) (Handle, error) {
	solver, err := s.solver()
	if err != nil {
		return 0, err
	}
	return add(solver), nil
}

func (s *Spec) solver() (*chain.Solver, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	motion, err := s.motion()
	if err != nil {
		return nil, err
	}
	solver, err := chain.NewSolver(chain.Limb{
		Axis: vector(s.Axis), Segments: s.Segments, Twist: s.Twist, Ramp: s.Ramp, Shares: s.Shares, TipShares: s.TipShares,
		Field: s.Field, Centre: chain.Centre{Mode: s.CentreMode, Direction: vector(s.Centre)}, Range: motion,
		AnchorRest: frame(s.AnchorRest), JointRest: frame(s.JointRest), TipRest: frame(s.TipRest),
	})
	if err != nil {
		return nil, BadSpec.errorf("%s", ownWords(err))
	}
	return solver, nil
}

// check looks at what chain has other names for, or would take.
func (s *Spec) check() error {
	for _, choice := range []struct {
		field       string
		value, most int
		expected    string
	}{
		{"twist", int(s.Twist), int(chain.Tip), "0 for own or 1 for tip"},
		{"ramp", int(s.Ramp), int(chain.Smooth), "0 for linear or 1 for smooth"},
		{"field", int(s.Field), int(chain.Balanced), "0 for any, 1 for shortest, 2 for centred, 3 for least_roll or 4 for balanced"},
		{"centre_mode", int(s.CentreMode), int(chain.Given), "0 for auto, 1 for none or 2 for a given centre"},
		{"range", int(s.Range), int(RangeLimits), "0 for none, 1 for hip, 2 for shoulder, 3 for wrist or 4 for limits"},
	} {
		if choice.value < 0 || choice.value > choice.most {
			return BadSpec.errorf("%s is %d, expected %s", choice.field, choice.value, choice.expected)
		}
	}
	for _, list := range []struct {
		field  string
		shares []float64
	}{{"shares", s.Shares}, {"tip_shares", s.TipShares}} {
		for i, x := range list.shares {
			if !(x >= 0 && x <= 1) {
				return BadSpec.errorf("%s[%d] is %g, expected 0 to 1", list.field, i, x)
			}
		}
		if n := len(list.shares); list.shares != nil && s.Segments != 0 && n != s.Segments {
			return BadSpec.errorf("%s has %d numbers, expected %d, one for each segment", list.field, n, s.Segments)
		}
	}
	if s.Shares != nil && s.TipShares != nil && len(s.Shares) != len(s.TipShares) {
		return BadSpec.errorf("tip_shares has %d numbers and shares %d, expected one for each segment", len(s.TipShares), len(s.Shares))
	}
	if err := s.checkAgreement(); err != nil {
		return err
	}
	return s.checkFrames()
}

// checkAgreement looks for what one field would have another leave aside, or asks of
// it.
func (s *Spec) checkAgreement() error {
	const ranges = "range hip, shoulder, wrist or limits"
	switch {
	case s.CentreMode != chain.Given && s.Centre != [3]float64{}:
		return BadSpec.errorf("centre is %v and centre_mode %d, expected 2 for a given centre, or no centre", s.Centre, s.CentreMode)
	case s.Range != RangeLimits && s.FlexionDeg != [2]float64{}:
		return BadSpec.errorf("flexion_deg is %v and range %d, expected 4 for limits, or no limits", s.FlexionDeg, s.Range)
	case s.Range != RangeLimits && s.AbductionDeg != [2]float64{}:
		return BadSpec.errorf("abduction_deg is %v and range %d, expected 4 for limits, or no limits", s.AbductionDeg, s.Range)
	case s.Range == RangeNone && (s.Field == chain.LeastRoll || s.Field == chain.Balanced):
		return BadSpec.errorf("field is %s and range none, expected %s", s.Field, ranges)
	case s.Range == RangeNone && s.Field == chain.Centred && s.CentreMode == chain.Auto:
		return BadSpec.errorf("field is centred, range none and centre auto, expected %s, or a given centre", ranges)
	}
	return nil
}

// checkFrames looks at axis and rest rotations.
func (s *Spec) checkFrames() error {
	if !isFinite(s.Axis[:]) {
		return BadSpec.errorf("axis is %v, expected a finite direction", s.Axis)
	}
	for _, rest := range []struct {
		field string
		q     *[4]float64
	}{{"anchor_rest", &s.AnchorRest}, {"joint_rest", &s.JointRest}, {"tip_rest", &s.TipRest}} {
		if !isFinite(rest.q[:]) {
			return BadSpec.errorf("%s is %v, expected a finite rotation x, y, z, w", rest.field, *rest.q)
		}
	}
	return nil
}

// motion is the joint's range.
func (s *Spec) motion() (chain.Range, error) {
	if s.Range == RangeNone {
		return chain.Range{}, nil
	}
	const square = 1e-6 // as chain has it: float32 and some rounding
	body := [3][3]float64{s.Down, s.Forward, s.Out}
	names := [3]string{"down", "forward", "out"}
	for i, v := range body {
		if length := r3.Norm(vector(v)); !(math.Abs(length*length-1) <= square) {
			return chain.Range{}, BadSpec.errorf("%s is %v, expected a direction of length 1: range asks where the body's down, forward and out are", names[i], v)
		}
		if j := (i + 1) % 3; !(math.Abs(r3.Dot(vector(v), vector(body[j]))) <= square) {
			return chain.Range{}, BadSpec.errorf("%s is %v and %s is %v, expected directions at right angles", names[i], v, names[j], body[j])
		}
	}
	down, forward, out := vector(s.Down), vector(s.Forward), vector(s.Out)
	switch s.Range {
	case RangeHip:
		return chain.Hip(down, forward, out), nil
	case RangeShoulder:
		return chain.Shoulder(down, forward, out), nil
	case RangeWrist:
		return chain.Wrist(down, forward, out), nil
	}
	for _, l := range []struct {
		field  string
		limits [2]float64
		most   float64
	}{{"flexion_deg", s.FlexionDeg, 180}, {"abduction_deg", s.AbductionDeg, 90}} {
		if !(l.limits[0] < l.limits[1] && l.limits[0] >= -l.most && l.limits[1] <= l.most) {
			return chain.Range{}, BadSpec.errorf("%s is %v, expected the least before the greatest, within %g degrees either way", l.field, l.limits, l.most)
		}
	}
	return chain.Range{Flexion: radians(s.FlexionDeg), Abduction: radians(s.AbductionDeg), Down: down, Forward: forward, Out: out}, nil
}

func radians(degrees [2]float64) [2]float64 {
	return [2]float64{degrees[0] * math.Pi / 180, degrees[1] * math.Pi / 180}
}

func vector(v [3]float64) r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }

func frame(q [4]float64) rest.Frame {
	return rest.Frame{Rotation: quat.Number{Real: q[3], Imag: q[0], Jmag: q[1], Kmag: q[2]}}
}

func isFinite(numbers []float64) bool {
	for _, x := range numbers {
		if x*0 != 0 {
			return false
		}
	}
	return true
}

// ownWords is what an error of chain's says, without what it says of where it is
// from.
func ownWords(err error) string {
	text := err.Error()
	for _, from := range []string{"chain: ", "limb: ", "batch: ", "aim: "} {
		text = strings.TrimPrefix(text, from)
	}
	return text
}
