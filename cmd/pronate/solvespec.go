package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// solveSettings are what the flags of solve say; a line may say otherwise.
type solveSettings struct {
	axis, centre, shares, tipShares numbers
	local                           bool
}

// check refuses flags that no line could be solved with.
func (s solveSettings) check() error {
	if _, err := newLineSolver(s, s.tipShares != nil); err != nil {
		return usageError{err}
	}
	return nil
}

// lineSolver solves line after line and keeps the solver of the last one:
// lines of one limb come in runs.
type lineSolver struct {
	settings solveSettings
	tip      bool
	solver   *chain.Solver
	segments []quat.Number
}

func newLineSolver(s solveSettings, tip bool) (*lineSolver, error) {
	axis, err := vector("axis", s.axis)
	if err != nil {
		return nil, err
	}
	spec := chain.Limb{Axis: axis, Shares: s.shares, Segments: len(s.shares), Centre: chain.Centre{Mode: chain.None}}
	if len(s.centre) > 0 {
		direction, err := vector("centre", s.centre)
		if err != nil {
			return nil, err
		}
		spec.Centre = chain.Centre{Mode: chain.Given, Direction: direction}
	}
	if tip {
		spec.TipShares = s.tipShares
		if spec.TipShares == nil {
			spec.TipShares = twist.Linear(len(s.shares))
		}
	}
	solver, err := chain.NewSolver(spec)
	if err != nil { // a line has no limb to name
		text := strings.TrimPrefix(err.Error(), "chain: limb: ")
		if rest, ok := strings.CutPrefix(text, "tip shares: "); ok {
			text = "tip_shares: " + strings.Replace(rest, "shares[", "tip_shares[", 1)
		}
		return nil, errors.New(text)
	}
	return &lineSolver{settings: s, tip: tip, solver: solver, segments: make([]quat.Number, solver.Segments())}, nil
}

// serves reports whether a line with these settings can use the same solver.
func (l *lineSolver) serves(s solveSettings, tip bool) bool {
	return l != nil && l.tip == tip && slices.Equal(l.settings.axis, s.axis) && slices.Equal(l.settings.centre, s.centre) &&
		slices.Equal(l.settings.shares, s.shares) && slices.Equal(l.settings.tipShares, s.tipShares)
}

// solved is one line's answer.
type solved struct {
	Twist     degrees      `json:"twist_deg"`
	TipTwist  *degrees     `json:"tip_twist_deg,omitempty"` // nil where there is no tip
	Condition float64      `json:"condition"`
	Swing     [4]float64   `json:"swing"`
	Segments  [][4]float64 `json:"segments"`
}

// degrees is a twist; NaN where it is undefined, which is null in JSON and
// nothing in CSV.
type degrees float64

func newDegrees(radians, condition float64) degrees {
	if condition < chain.MinCondition {
		return degrees(math.NaN())
	}
	return degrees(plain(radians * 180 / math.Pi))
}

// String is empty where the twist is undefined.
func (d degrees) String() string {
	if math.IsNaN(float64(d)) {
		return ""
	}
	return strconv.FormatFloat(float64(d), 'g', -1, 64)
}

func (d degrees) MarshalJSON() ([]byte, error) {
	if math.IsNaN(float64(d)) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(d))
}

func (l *lineSolver) solve(rotation, tip quat.Number) solved {
	solve := l.solver.SolveFromRest
	if l.settings.local {
		solve = l.solver.Solve
	}
	result := solve(l.segments, rotation, tip)
	out := solved{
		Twist: newDegrees(result.Twist, result.Condition), Condition: result.Condition,
		Swing: xyzw(l.solver.Swing(rotation, result)),
	}
	if l.tip {
		tipTwist := newDegrees(result.TipTwist, result.TipCondition)
		out.TipTwist = &tipTwist
	}
	for _, q := range l.segments {
		out.Segments = append(out.Segments, xyzw(q))
	}
	return out
}

func xyzw(q quat.Number) [4]float64 {
	return [4]float64{plain(q.Imag), plain(q.Jmag), plain(q.Kmag), plain(q.Real)}
}

// plain has no negative zero, which nobody wants to read.
func plain(x float64) float64 {
	if x == 0 {
		return 0
	}
	return x
}

// rotation checks four numbers and reads them as x, y, z, w.
func rotation(field string, v []float64) (quat.Number, error) {
	if v == nil {
		return quat.Number{}, fmt.Errorf("%s is missing", field)
	}
	if len(v) != 4 {
		return quat.Number{}, fmt.Errorf("%s has %d numbers, expected [x, y, z, w]", field, len(v))
	}
	largest := 0.0
	for _, x := range v {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return quat.Number{}, fmt.Errorf("%s is not finite", field)
		}
		largest = max(largest, math.Abs(x))
	}
	if largest == 0 {
		return quat.Number{}, fmt.Errorf("%s is zero, expected a quaternion of any other length", field)
	}
	return quat.Number{Real: v[3], Imag: v[0], Jmag: v[1], Kmag: v[2]}, nil
}

func vector(field string, v []float64) (r3.Vec, error) {
	if len(v) != 3 {
		return r3.Vec{}, fmt.Errorf("%s has %d numbers, expected [x, y, z]", field, len(v))
	}
	direction := r3.Vec{X: v[0], Y: v[1], Z: v[2]}
	if direction == (r3.Vec{}) {
		return direction, fmt.Errorf("%s is [0, 0, 0], expected a direction of non-zero length", field)
	}
	return direction, nil
}
