package asset

import (
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/pronate/pronate/chain"
)

// Limbs is a limb file: which bones of a character are split, and how. Its
// YAML form is what [ParseLimbs] reads and [Limbs.YAML] writes.
type Limbs struct {
	Version int // 1
	Limbs   []LimbSpec
	// Resolved limbs are settled: a split takes them as they are and measures nothing,
	// so that all files of a character get the same segments.
	Resolved bool

	// What Detect says about a character besides. YAML writes both as comments.
	Skipped    []SkippedLimb // limbs that are not proposed
	SkinUnseen bool          // the file has no mesh: the limbs are those of names and hierarchy
}

// LimbsVersion is the version of the limb file that this package reads and
// writes.
const LimbsVersion = 1

// DefaultSegments is how many segments a limb has whose number is auto, where no
// character is measured. Under a
// twist of 90 degrees the section midway between two segments keeps cos(45
// degrees) = 0.71 of its radius with 2 segments, cos(22.5 degrees) = 0.92 with
// 3; the step to 4 gains 0.04 more.
const DefaultSegments = 3

const (
	minSegments = chain.MinSegments
	maxSegments = chain.MaxSegments
)

// LimbSpec is one limb of a limb file. Joints go by name, or by node index,
// written "#12". Fields left zero take the defaults said beside them. One that
// ParseLimbs read knows its place in the file besides, which errors and warnings
// name; it is no part of what the limb is, and makes reflect.DeepEqual differ.
type LimbSpec struct {
	Name     string   // unique in the file; default: the joint's name
	Joint    string   // the joint whose bone is split
	End      End      // where its bone ends
	Segments int      // 2 to 32; 0, the default, is auto: as many as a list of shares has, or what the character needs
	Twist    string   // "own", the default: ramp the joint's own twist from root to end; "tip": ramp that of Tip
	Tip      string   // the joint at the tip, below Joint; with Twist "tip" and only then
	Shares   Shares   // how the twist grows along the segments
	Anchor   string   // what the root end holds on to; default: the joint's parent
	Centre   Centre   // where the swing has its centre
	Range    Range    // the joint's range of motion
	Field    string   // of swings: "shortest", "centred", "least_roll" or "balanced"; default: what centre and range are good for
	Stretch  *Stretch // how segments follow a change of the bone's length; nil: not at all
	Crease   *Crease  // how they are eased out of a fold; nil: not at all

	Exclude *SkinParts // skin that is left as it was; nil: none
	Rigid   *SkinParts // skin of which each connected piece moves with one segment; nil: what rides on the limb

	place *filePlace // where a limb file has it; nil where it came from none
}

// Words of the limb file.
const (
	SegmentsAuto   = "auto"
	TwistOwn       = "own"
	TwistTip       = "tip"
	SharesLinear   = "linear"
	SharesSmooth   = "smooth"
	CentreAuto     = "auto"
	CentreNone     = "none"
	FieldShortest  = "shortest"
	FieldCentred   = "centred"
	FieldLeastRoll = "least_roll"
	FieldBalanced  = "balanced"
)

// End is where a bone ends: at a joint, or at a point.
type End struct {
	Joint string      // a joint below the limb's; "" where Point is set
	Point *[3]float64 // in the joint's frame at rest, in the joint's units
}

// Shares say how much of the twist each segment takes.
type Shares struct {
	Ramp string    // "linear", the default, or "smooth"; "" where List is set
	List []float64 // one for each segment, 0 to 1
}

// Centre is the direction a limb's swing goes by way of.
type Centre struct {
	Mode      string      // "auto", the default, or "none"; "" where Direction is set
	Direction *[3]float64 // in the anchor's frame at rest, any non-zero length
}

// withDefaults fills in what a limb leaves to its defaults, save the anchor.
func (s LimbSpec) withDefaults() LimbSpec {
	if s.Name == "" {
		s.Name = s.Joint
	}
	if s.Twist == "" {
		s.Twist = TwistOwn
	}
	if s.Shares.Ramp == "" && s.Shares.List == nil {
		s.Shares.Ramp = SharesLinear
	}
	if s.Centre.Mode == "" && s.Centre.Direction == nil {
		s.Centre.Mode = CentreAuto
	}
	s.Stretch, s.Crease = s.Stretch.withDefaults(), s.Crease.withDefaults()
	return s
}

// segments is the number of segments: where it is auto, as many as a list of shares has,
// or else DefaultSegments.
func (s LimbSpec) segments() int { return cmp.Or(s.Segments, len(s.Shares.List), DefaultSegments) }

// check says what is wrong with a limb that has its defaults filled in, apart
// from any character: the field at fault, the place in its list or -1, and what
// is the matter, to be read after the field's name. A key inside a field follows
// it after a space.
func (s LimbSpec) check() (field string, index int, err error) {
	n := s.segments()
	switch {
	case s.Joint == "":
		return "joint", -1, errors.New("is empty, expected a joint's name")
	case s.End.Joint == "" && s.End.Point == nil:
		return "end", -1, errors.New("is empty, expected a joint's name or a point [x, y, z]")
	case s.End.Joint != "" && s.End.Point != nil:
		return "end", -1, errors.New("is both a joint and a point, expected one of them")
	case s.End.Joint == s.Joint:
		return "end", -1, fmt.Errorf("is %q, the limb's joint itself, expected a joint below it", s.End.Joint)
	case s.End.Point != nil && !isDirection(*s.End.Point):
		return "end", -1, fmt.Errorf("is %s, expected three finite numbers, not all 0", numberList(s.End.Point[:]))
	case (n < minSegments || n > maxSegments) && n == len(s.Shares.List):
		return "shares", -1, fmt.Errorf("is a list of %d, expected %d to %d numbers, one for each segment", n, minSegments, maxSegments)
	case n < minSegments || n > maxSegments:
		return "segments", -1, errSegments(s.Segments)
	case s.Twist != TwistOwn && s.Twist != TwistTip:
		return "twist", -1, fmt.Errorf("is %q, expected own or tip", s.Twist)
	case s.Twist == TwistTip && s.Tip == "":
		return "tip", -1, errors.New("is missing, expected the joint whose twist is ramped: twist is tip")
	case s.Twist == TwistOwn && s.Tip != "":
		return "tip", -1, fmt.Errorf("is %q, expected none where twist is own; write \"twist: tip\" to ramp its twist", s.Tip)
	case s.Tip != "" && s.Tip == s.Joint:
		return "tip", -1, fmt.Errorf("is %q, the limb's joint itself, expected a joint below it", s.Tip)
	case s.Anchor != "" && s.Anchor == s.Joint:
		return "anchor", -1, fmt.Errorf("is %q, the limb's joint itself, expected another", s.Anchor)
	case s.Centre.Mode != "" && s.Centre.Direction != nil:
		return "centre", -1, errors.New("is both a word and a direction, expected one of them")
	case s.Centre.Direction != nil && !isDirection(*s.Centre.Direction):
		return "centre", -1, fmt.Errorf("is %s, expected three finite numbers, not all 0", numberList(s.Centre.Direction[:]))
	case s.Centre.Direction == nil && s.Centre.Mode != CentreAuto && s.Centre.Mode != CentreNone:
		return "centre", -1, fmt.Errorf("is %q, expected auto, none or a direction [x, y, z]", s.Centre.Mode)
	}
	if err := s.Range.check(); err != nil {
		return "range", -1, err
	}
	if field := s.idleField(); field != "" {
		return field, -1, errors.New("has no effect where twist is tip, expected none: the joint's own twist is kept whole, however it bends")
	}
	if err := s.checkField(); err != nil {
		return "field", -1, err
	}
	if key, index, err := s.Stretch.check(s); err != nil {
		return "stretch " + key, index, err
	}
	if key, err := s.Crease.check(s); err != nil {
		return "crease " + key, -1, err
	}
	for key, parts := range s.skinParts() {
		if inner, index, err := parts.check(); err != nil {
			return strings.TrimSpace(key + " " + inner), index, err
		}
	}
	index, err = s.Shares.check(n)
	return "shares", index, err
}

func errSegments(given any) error {
	return fmt.Errorf("is %v, expected auto or a whole number from %d to %d", given, minSegments, maxSegments)
}

// idleField is a field of a limb that ramps a tip's twist which says how the
// joint's own swing goes, and so nothing; "" where there is none.
func (s LimbSpec) idleField() string {
	switch {
	case s.Twist != TwistTip:
		return ""
	case !s.Range.isZero() && s.Range.Name != RangeNone:
		return "range"
	case s.Field != "":
		return "field"
	case s.Centre.Direction != nil:
		return "centre"
	}
	return ""
}

func (s LimbSpec) checkField() error {
	switch s.Field {
	case "":
		return nil
	case FieldShortest:
		if s.Centre.Direction != nil {
			return errors.New("is shortest, which goes by no centre, and centre is a direction; expected centred, least_roll or balanced")
		}
		return nil
	case FieldCentred, FieldLeastRoll, FieldBalanced:
	default:
		return fmt.Errorf("is %q, expected shortest, centred, least_roll or balanced", s.Field)
	}
	switch {
	case s.Centre.Mode == CentreNone:
		return fmt.Errorf("is %s and centre none, expected centre: auto or a direction", s.Field)
	case s.Range.Name == RangeNone && (s.Field != FieldCentred || s.Centre.Direction == nil):
		return fmt.Errorf("is %s and range none, expected a range", s.Field)
	}
	return nil
}

func (s Shares) check(segments int) (index int, err error) {
	switch {
	case s.List == nil && s.Ramp != SharesLinear && s.Ramp != SharesSmooth:
		return -1, fmt.Errorf("is %q, expected linear, smooth or a list of numbers from 0 to 1", s.Ramp)
	case s.List == nil:
		return -1, nil
	case s.Ramp != "":
		return -1, errors.New("is both a word and a list, expected one of them")
	case len(s.List) != segments:
		return -1, fmt.Errorf("has %d numbers, expected %d, one for each segment", len(s.List), segments)
	}
	for i, x := range s.List {
		if !(x >= 0 && x <= 1) {
			return i, fmt.Errorf("has %g at place %d, expected 0 to 1", x, i+1)
		}
	}
	return -1, nil
}

// isDirection reports whether v is finite and not zero.
func isDirection(v [3]float64) bool {
	return v != [3]float64{} && v[0]*0 == 0 && v[1]*0 == 0 && v[2]*0 == 0
}

// String is the joint's name, or the point as a limb file has it.
func (e End) String() string {
	if e.Point != nil {
		return numberList(e.Point[:])
	}
	return e.Joint
}

// numberList writes numbers as YAML, in as few digits as give them back.
func numberList(numbers []float64) string {
	var b strings.Builder
	for i, x := range numbers {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(numberText(x))
	}
	return "[" + b.String() + "]"
}

// numberText writes a number in as few digits as give it back.
func numberText(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
