package chain

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// HingeFit tells how well turns agree on a hinge's axis.
type HingeFit struct {
	// Residual is the root mean square angle in radians between the axes that the
	// bone swings about and the hinge's, each turn weighted as in the fit.
	Residual float64
	// Largest is the farthest that the bone swings from rest, in radians.
	Largest float64
}

// HingeMinSwing is how far some turn has to swing the bone before the turns tell
// an axis, 10 degrees. Under that a clip holds more sway and rounding than bend.
const HingeMinSwing = 10 * degree

// hingeMostRound is the largest ratio of the mean squares across and along the
// axis at which a joint's swings still have an axis: an ellipse twice as long as
// it is wide.
const hingeMostRound = 0.25

// hingeStray is how far off the axis a turn may be, in radians, and never be left
// out of the fit as a stray: far above what float32 keys leave, a hundredth of a
// degree at the smallest swings that count, and no more than an axis needs.
const hingeStray = 0.1 * degree

// HingeFromTurns makes a hinge of what a joint does: rotations from rest in its
// rest frame, of any length, q and -q alike. Zero and non-finite ones are passed
// over.
//
// The axis is that of least squares over the swings: of each rotation the twist
// about the bone is taken out, which says nothing about where the joint bends, and
// the axis is the one at right angles to the bone along which the vector parts of
// what is left are longest, the principal eigenvector of the sum of v vᵀ. In the
// plane at right angles to the bone that is half the angle of the sum of v's
// squares as complex numbers. |v| is the sine of half the swing, so that small
// turns do not decide.
//
// A few turns that bend sideways must not pull the axis after them. So the fit is
// done again without those that stray from the weighted median by more than a tenth
// of a degree and three times the median of such distances. Turns that lean sideways
// in proportion to their flexion throughout look like a hinge with another axis,
// and nothing in them tells otherwise.
//
// Flexion is the way of the largest swing. It is an error where no turn swings the
// bone by [HingeMinSwing], or where the swings have no axis, going all ways alike.
func HingeFromTurns(bone r3.Vec, turns []quat.Number) (Hinge, HingeFit, error) {
	a, err := hingeUnit("bone", bone)
	if err != nil {
		return Hinge{}, HingeFit{}, err
	}
	e1, _ := swing.Perpendicular(a)
	e2 := r3.Cross(a, e1)
	var fit HingeFit
	var largest r3.Vec
	swings := make([]bentTurn, 0, len(turns))
	for _, q := range turns {
		v, ok := swingVector(q, a)
		if !ok {
			continue
		}
		s := bentTurn{x: r3.Dot(v, e1), y: r3.Dot(v, e2)}
		s.weight = s.x*s.x + s.y*s.y
		if s.weight > r3.Norm2(largest) {
			largest = v
		}
		swings = append(swings, s)
	}
	half := r3.Norm(largest)
	fit.Largest = 2 * math.Atan2(half, math.Sqrt(max(0, 1-half*half)))
	if fit.Largest < HingeMinSwing {
		return Hinge{}, fit, fmt.Errorf("chain: hinge: no turn bends the joint by more than %.1f degrees, expected %.0f", fit.Largest/degree, HingeMinSwing/degree)
	}
	angle, round := principal(swings, math.Inf(1))
	if round > hingeMostRound {
		return Hinge{}, fit, fmt.Errorf("chain: hinge: the joint bends about no one axis: %.0f%% as far across it as along, expected %.0f%% or less", 100*math.Sqrt(round), 100*math.Sqrt(hingeMostRound))
	}
	measureOff(swings, angle)
	middle := weightedMedian(swings)
	angle += middle
	measureOff(swings, angle)
	for i := range swings {
		swings[i].off = math.Abs(swings[i].off)
	}
	angle, _ = principal(swings, max(hingeStray, 3*weightedMedian(swings)))
	measureOff(swings, angle)
	sum, total := 0., 0.
	for _, s := range swings {
		sum += s.weight * s.off * s.off
		total += s.weight
	}
	fit.Residual = math.Sqrt(sum / total)
	sin, cos := math.Sincos(angle)
	axis := r3.Add(r3.Scale(cos, e1), r3.Scale(sin, e2))
	if r3.Dot(axis, largest) < 0 {
		axis = r3.Scale(-1, axis)
	}
	return hingeOf(a, axis), fit, nil
}

// bentTurn is the vector part of a swing in the plane at right angles to the bone.
type bentTurn struct {
	x, y   float64
	weight float64 // x^2 + y^2
	off    float64 // angle from an axis, within a quarter turn
}

// swingVector is the vector part of the swing of q, its twist about a taken out,
// with a real part >= 0.
func swingVector(q quat.Number, a r3.Vec) (r3.Vec, bool) {
	q = rest.Frame{Rotation: q}.Unit()
	v := r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}
	p := r3.Dot(v, a)
	n := math.Hypot(q.Real, p)
	if !(n <= 2) || q == (quat.Number{}) { // NaN
		return r3.Vec{}, false
	}
	flat := r3.Sub(v, r3.Scale(p, a))
	if n < MinCondition { // a half-turn swing: all twists are one
		return flat, true
	}
	// s = q t*, with t = (w + p a)/n.
	return r3.Scale(1/n, r3.Sub(r3.Scale(q.Real, flat), r3.Scale(p, r3.Cross(flat, a)))), true
}

// principal is the angle of the axis along which the swings are longest, of those
// within most of the axis that their off was measured from, and the ratio of the
// mean squares across and along it.
func principal(swings []bentTurn, most float64) (angle, round float64) {
	var c, s, total float64
	for _, v := range swings {
		if v.off <= most {
			c += v.x*v.x - v.y*v.y
			s += 2 * v.x * v.y
			total += v.weight
		}
	}
	length := math.Hypot(c, s)
	return math.Atan2(s, c) / 2, (total - length) / (total + length)
}

// measureOff sets each swing's angle from an axis, q and -q alike.
func measureOff(swings []bentTurn, angle float64) {
	sin, cos := math.Sincos(angle)
	for i := range swings {
		s := &swings[i]
		along, across := s.x*cos+s.y*sin, s.y*cos-s.x*sin
		if along < 0 {
			along, across = -along, -across
		}
		s.off = math.Atan2(across, along)
	}
}

// weightedMedian is the off that half the weight lies below. It sorts.
func weightedMedian(swings []bentTurn) float64 {
	slices.SortFunc(swings, func(a, b bentTurn) int { return cmp.Compare(a.off, b.off) })
	total := 0.
	for _, s := range swings {
		total += s.weight
	}
	below := 0.
	for _, s := range swings {
		if below += s.weight; 2*below >= total {
			return s.off
		}
	}
	return 0
}
