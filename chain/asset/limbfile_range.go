package asset

import (
	"errors"
	"fmt"
	"slices"

	"github.com/goccy/go-yaml/ast"
)

// Range is a joint's range of motion as a limb file has it: a name, or limits
// in degrees. The zero value leaves it to the character. One that stands as a person
// does has the hip's range for a thigh, the shoulder's for an upper arm and none for any
// other limb. In any other character a range is fitted to the clips.
type Range struct {
	Name         string     // "hip", "shoulder", "wrist", "clips" or "none"; "" where there are limits
	FlexionDeg   [2]float64 // degrees, least and greatest
	AbductionDeg [2]float64 // degrees, least and greatest
	Frame        RangeFrame // where limits are measured from; zero: from the body's directions
}

// Names of ranges.
const (
	RangeHip      = "hip"
	RangeShoulder = "shoulder"
	RangeWrist    = "wrist"
	RangeClips    = "clips" // fitted to the directions that the bone takes in the character's clips
	RangeNone     = "none"
)

// Limits as goniometry has them: flexion all round, abduction to the pole.
const (
	mostFlexion   = 180
	mostAbduction = 90
)

// isZero reports whether the range is left to the joint.
func (r Range) isZero() bool { return r == Range{} }

// check says what is wrong with a range, to be read after "range".
func (r Range) check() error {
	limits := r.FlexionDeg != [2]float64{} || r.AbductionDeg != [2]float64{}
	if err := r.checkFrame(); err != nil {
		return err
	}
	switch r.Name {
	case "":
		if r.isZero() {
			return nil
		}
	case RangeHip, RangeShoulder, RangeWrist, RangeClips, RangeNone:
		if limits {
			return errors.New("is both a name and limits, expected one of them")
		}
		return nil
	default:
		return fmt.Errorf("is %q, expected %s", r.Name, rangeExpected)
	}
	for _, l := range []struct {
		key    string
		limits [2]float64
		most   float64
	}{{"flexion_deg", r.FlexionDeg, mostFlexion}, {"abduction_deg", r.AbductionDeg, mostAbduction}} {
		if !(l.limits[0] < l.limits[1] && l.limits[0] >= -l.most && l.limits[1] <= l.most) {
			return fmt.Errorf("has %s %s, expected the least before the greatest, within %g degrees either way", l.key, numberList(l.limits[:]), l.most)
		}
	}
	return nil
}

// yaml writes the range as a limb file has it.
func (r Range) yaml() string {
	if r.Name != "" {
		return r.Name
	}
	frame := ""
	if !r.Frame.isZero() {
		frame = r.Frame.yaml()
	}
	return fmt.Sprintf("{flexion_deg: %s, abduction_deg: %s%s}", numberList(r.FlexionDeg[:]), numberList(r.AbductionDeg[:]), frame)
}

// motionRange reads a range.
func (r limbReader) motionRange(n ast.Node) (Range, error) {
	if !isMapping(n) {
		name, err := r.textOr("range", n, rangeExpected)
		return Range{Name: name}, err
	}
	entries, err := r.mapping(n, "limits: flexion_deg and abduction_deg", slices.Concat(limitKeys, frameKeys))
	if err != nil {
		return Range{}, err
	}
	out, err := r.limits(n, entries)
	if err != nil {
		return Range{}, err
	}
	out.Frame, err = r.frame(n, entries)
	return out, err
}

var (
	limitKeys     = []string{"flexion_deg", "abduction_deg"}
	limitExamples = []string{"[-30, 120]", "[-30, 45]"}
)

const rangeExpected = "hip, shoulder, wrist, clips, none or limits such as {flexion_deg: [-30, 120], abduction_deg: [-30, 45]}"

// limits reads the limits of a range.
func (r limbReader) limits(n ast.Node, entries map[string]entry) (Range, error) {
	var limits [2][2]float64
	for i, key := range limitKeys {
		e, ok := entries[key]
		if !ok {
			return Range{}, r.at(n, "the range has no %s, expected [least, greatest] in degrees, such as %s: %s", key, key, limitExamples[i])
		}
		var err error
		if limits[i], err = r.two(key, "[least, greatest] in degrees", e.value); err != nil {
			return Range{}, err
		}
	}
	out := Range{FlexionDeg: limits[0], AbductionDeg: limits[1]}
	if out.isZero() { // which is no range, not one left to the joint
		return out, r.at(n, "range has no extent, expected the least before the greatest")
	}
	return out, nil
}

// two reads a list of two numbers.
func (r limbReader) two(key, expected string, n ast.Node) ([2]float64, error) {
	list, ok := n.(*ast.SequenceNode)
	if !ok {
		return [2]float64{}, r.at(n, "%s is %s, expected %s", key, describe(n), expected)
	}
	numbers, err := r.numbers(key, list)
	if err != nil {
		return [2]float64{}, err
	}
	if len(numbers) != 2 {
		return [2]float64{}, r.at(list, "%s has %d numbers, expected 2", key, len(numbers))
	}
	return [2]float64(numbers), nil
}
