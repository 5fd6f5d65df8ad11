package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// solveSettings are what the flags of solve say; a line may say otherwise, unless
// there is a limb.
type solveSettings struct {
	axis, centre, shares, tipShares numbers
	local                           bool
	limb                            *solveLimb // for every line; nil where lines and flags say what one is
}

// check refuses flags that no line could be solved with.
func (s solveSettings) check() error {
	if s.limb != nil {
		return nil // a tip is a matter of lines
	}
	if _, err := newLineSolver(s, s.tipShares != nil); err != nil {
		return usageError{err}
	}
	return nil
}

// lineSolver solves line after line of one specification, without allocation.
type lineSolver struct {
	settings solveSettings
	tip      bool
	solver   *chain.Solver
	segments []quat.Number

	answer                   solved // is pointed to what follows
	twistDegrees, tipDegrees float64
	tipTwist                 *float64
}

func newLineSolver(s solveSettings, tip bool) (*lineSolver, error) {
	solver, err := s.solver(tip)
	if err != nil {
		return nil, err
	}
	n := solver.Segments()
	return &lineSolver{settings: s.clone(), tip: tip, solver: solver, segments: make([]quat.Number, n), answer: solved{Segments: make([][4]float64, n)}}, nil
}

// solver is the limb's, or one of what lines and flags say.
func (s solveSettings) solver(tip bool) (*chain.Solver, error) {
	if s.limb != nil {
		return s.limb.solver, nil
	}
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
	return solver, nil
}

// clone is for settings to keep: those of a line are overwritten by the next.
func (s solveSettings) clone() solveSettings {
	s.axis, s.centre = slices.Clone(s.axis), slices.Clone(s.centre)
	s.shares, s.tipShares = slices.Clone(s.shares), slices.Clone(s.tipShares)
	return s
}

// serves reports whether a line with these settings can use the same solver.
func (l *lineSolver) serves(s solveSettings, tip bool) bool {
	return l.tip == tip && slices.Equal(l.settings.axis, s.axis) && slices.Equal(l.settings.centre, s.centre) &&
		slices.Equal(l.settings.shares, s.shares) && slices.Equal(l.settings.tipShares, s.tipShares) &&
		(l.settings.tipShares == nil) == (s.tipShares == nil) // an empty list is an error
}

// recentSolvers are those of the last lines, latest first: the lines of one limb
// come in runs, or those of a character's limbs by turns.
type recentSolvers []*lineSolver

// mostSolvers bounds the memory; a character has fewer limbs worth splitting.
const mostSolvers = 32

func (r *recentSolvers) find(s solveSettings, tip bool) (*lineSolver, error) {
	at := slices.IndexFunc(*r, func(l *lineSolver) bool { return l.serves(s, tip) })
	var found *lineSolver
	switch {
	case at == 0:
		return (*r)[0], nil
	case at > 0:
		found = (*r)[at]
	default:
		var err error
		if found, err = newLineSolver(s, tip); err != nil {
			return nil, err
		}
		if len(*r) < mostSolvers {
			*r = append(*r, nil)
		}
		at = len(*r) - 1
	}
	copy((*r)[1:], (*r)[:at])
	(*r)[0] = found
	return found, nil
}

// solved is one line's answer.
type solved struct {
	Twist     *float64     `json:"twist_deg"`               // nil where it is undefined
	TipTwist  **float64    `json:"tip_twist_deg,omitempty"` // nil where there is no tip, points to nil where it is undefined
	Condition float64      `json:"condition"`
	Swing     [4]float64   `json:"swing"`
	Segments  [][4]float64 `json:"segments"`
}

// solve's answer is good until the next call.
func (l *lineSolver) solve(rotation, tip quat.Number) *solved {
	solve := l.solver.SolveFromRest
	if l.settings.local {
		solve = l.solver.Solve
	}
	result := solve(l.segments, rotation, tip)
	if l.settings.local && l.settings.limb != nil {
		l.settings.limb.leaf.carry(l.segments)
	}
	out := &l.answer
	out.Twist = degrees(&l.twistDegrees, result.Twist, result.Condition)
	out.Condition = result.Condition
	out.Swing = xyzw(l.solver.Swing(rotation, result))
	if l.tip {
		l.tipTwist = degrees(&l.tipDegrees, result.TipTwist, result.TipCondition)
		out.TipTwist = &l.tipTwist
	}
	for i, q := range l.segments {
		out.Segments[i] = xyzw(q)
	}
	return out
}

// degrees puts a twist into a place, and gives nil where it is undefined.
func degrees(into *float64, radians, condition float64) *float64 {
	if condition < chain.MinCondition {
		return nil
	}
	*into = plain(radians * 180 / math.Pi)
	return into
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
