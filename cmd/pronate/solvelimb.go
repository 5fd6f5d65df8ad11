package main

import (
	"errors"
	"fmt"

	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// solveLimb is the one limb that all lines are solved by.
type solveLimb struct {
	name        string
	tip         string // the joint whose twist is ramped; empty where it is the limb's own
	inCharacter bool
	solver      *chain.Solver
	leaf        *leafFrame // nil where a leaf joint turns as the solver says
}

// refuse finds in a line what the limb says, and misses what it needs.
func (l *solveLimb) refuse(given *givenNumbers) error {
	switch {
	case given.axis != nil && l.inCharacter:
		return errors.New("axis: the character says it, expected none")
	case given.axis != nil:
		return errors.New("axis: --axis says it for all lines of a limb, expected none")
	case given.shares != nil:
		return errors.New("shares: the limb says them, expected none")
	case given.centre != nil:
		return errors.New("centre: the limb says it, expected none")
	case given.tipShares != nil:
		return errors.New("tip_shares: the limb says them, expected none")
	case l.tip == "" && given.tip != nil:
		return fmt.Errorf("tip: limb %q ramps its own twist, expected none", l.name)
	case l.tip != "" && given.tip == nil:
		return fmt.Errorf("tip is missing, expected the rotation of %s, whose twist limb %q ramps", l.tip, l.name)
	}
	return nil
}

// refuseColumns is refuse for the columns of a table.
func (l *solveLimb) refuseColumns(header []string, hasTip bool) error {
	switch {
	case l.tip == "" && hasTip:
		return fmt.Errorf("tip_x, tip_y, tip_z, tip_w: limb %q ramps its own twist, expected none of these columns", l.name)
	case l.tip != "" && !hasTip:
		return fmt.Errorf("expected the columns tip_x, tip_y, tip_z, tip_w, the rotation of %s, whose twist limb %q ramps, found %s", l.tip, l.name, namesInShort(header))
	}
	return nil
}

// leafFrame carries turns about the bone into a joint whose own scale is uneven or
// mirrors: a leaf joint stands inside that scale, the solver outside it.
type leafFrame struct {
	inside, outside r3.Vec // the unit long axis
	sense           float64
}

// sameAxis is what two ways to the unit axis differ by without any scale: some
// roundings of 2^-53 each.
const sameAxis = 1e-14

func leafFrameOf(inside, outside r3.Vec, sense float64) *leafFrame {
	if sense == 1 && r3.Norm(r3.Sub(inside, outside)) <= sameAxis {
		return nil
	}
	return &leafFrame{inside, outside, sense}
}

func (f *leafFrame) carry(turns []quat.Number) {
	if f == nil {
		return
	}
	for i, q := range turns {
		along := f.sense * r3.Dot(f.outside, r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag})
		turns[i] = quat.Number{Real: q.Real, Imag: along * f.inside.X, Jmag: along * f.inside.Y, Kmag: along * f.inside.Z}
	}
}
