package asset

import (
	"errors"
	"fmt"
	"math"

	"github.com/goccy/go-yaml/ast"
	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/spatial/r3"
)

// RangeFrame is where the limits of a range are measured from: directions in the
// anchor's frame at rest, of any non-zero length and at right angles, of either
// handedness. See [chain.Range]. The zero value is a body's that stands along the
// world's axes: down is -Y, forward is +Z and out is +X on the left, -X on the right.
type RangeFrame struct {
	Down, Forward, Out [3]float64
}

var frameKeys = []string{"down", "forward", "out"}

// slackFrame is the cosine by which right angles of a range's directions may be off:
// numbers of two digits after the point are within 0.005 each.
const slackFrame = 0.01

// squareFrame is how far lengths and right angles may be off for directions to be
// taken as they are: what was written from a fitted range comes back with the same
// bits, for it is square to the rounding of some float64 products.
const squareFrame = 1e-12

func (f RangeFrame) isZero() bool { return f == RangeFrame{} }

func (f RangeFrame) directions() [3][3]float64 { return [3][3]float64{f.Down, f.Forward, f.Out} }

// check says which direction is at fault and what is wrong with it.
func (f RangeFrame) check() (key string, err error) {
	var units [3]r3.Vec
	for i, d := range f.directions() {
		if !isDirection(d) {
			return frameKeys[i], fmt.Errorf("is %s, expected three finite numbers, not all 0", numberList(d[:]))
		}
		units[i], _ = steady.Unit(r3.Vec{X: d[0], Y: d[1], Z: d[2]})
		for k := range i {
			if dot := steady.Dot(units[i], units[k]); !(math.Abs(dot) <= slackFrame) {
				angle := math.Atan2(r3.Norm(r3.Cross(units[i], units[k])), dot) * 180 / math.Pi
				return frameKeys[i], fmt.Errorf("is %.3g degrees from %s, expected a right angle", angle, frameKeys[k])
			}
		}
	}
	return "", nil
}

// square is the frame with directions of length 1 at right angles, down first.
func (f RangeFrame) square() bodyFrame {
	var v [3]r3.Vec
	off := 0.
	for i, d := range f.directions() {
		v[i] = r3.Vec{X: d[0], Y: d[1], Z: d[2]}
		off = max(off, math.Abs(steady.Norm2(v[i])-1))
		for k := range i {
			off = max(off, math.Abs(steady.Dot(v[i], v[k])))
		}
	}
	if !(off <= squareFrame) {
		for i := range v {
			v[i], _ = steady.Unit(v[i])
			for k := range i {
				v[i] = steady.Less(v[i], steady.Dot(v[i], v[k]), v[k])
			}
			v[i], _ = steady.Unit(v[i])
		}
	}
	return bodyFrame{v[0], v[1], v[2]}
}

// frameOf is a frame as a limb file has it.
func frameOf(b bodyFrame) RangeFrame {
	three := func(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
	return RangeFrame{three(b.down), three(b.forward), three(b.out)}
}

// yaml writes the frame as keys of a range.
func (f RangeFrame) yaml() (text string) {
	for i, d := range f.directions() {
		text += ", " + frameKeys[i] + ": " + numberList(d[:])
	}
	return text
}

// frame reads the directions of a range; none are the body's.
func (r limbReader) frame(n ast.Node, entries map[string]entry) (f RangeFrame, err error) {
	given, missing := "", ""
	for _, key := range frameKeys {
		if _, ok := entries[key]; ok {
			given = key
		} else if missing == "" {
			missing = key
		}
	}
	switch {
	case given == "":
		return f, nil
	case missing != "":
		return f, r.at(n, "the range has %s and no %s, expected all of down, forward and out, or none", given, missing)
	}
	for i, to := range []*[3]float64{&f.Down, &f.Forward, &f.Out} {
		key := frameKeys[i]
		list, ok := entries[key].value.(*ast.SequenceNode)
		if !ok {
			return f, r.at(entries[key].value, "%s is %s, expected a direction [x, y, z]", key, describe(entries[key].value))
		}
		three, err := r.three(key, list)
		if err != nil {
			return f, err
		}
		*to = *three
	}
	if key, err := f.check(); err != nil {
		return f, r.at(entries[key].value, "%s %v", key, err)
	}
	return f, nil
}

// checkFrame is check for a whole range.
func (r Range) checkFrame() error {
	if r.Frame.isZero() {
		return nil
	}
	if r.Name != "" {
		return errors.New("is both a name and directions, expected one of them")
	}
	if key, err := r.Frame.check(); err != nil {
		return fmt.Errorf("has %s that %w", key, err)
	}
	return nil
}
