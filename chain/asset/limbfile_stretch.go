package asset

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
	"github.com/pronate/pronate/chain"
)

// Stretch is how a limb's segments follow a change of the bone's length. In a
// limb file it is a joint, or a mapping.
type Stretch struct {
	By       string     // the joint that the length is measured to; "end", the default: the limb's end
	Limits   [2]float64 // of the length, as a ratio to rest, least and greatest; zero: chain.LeastStretch and chain.MostStretch
	Shares   []float64  // of a change of length, one for each segment, summing to 1; nil: equal
	Exponent *float64   // sections scale by the ratio to the power of minus that; nil: 1/2, which keeps the volume
}

// StretchByEnd stands for the limb's end joint.
const StretchByEnd = "end"

var stretchKeys = []string{"by", "limits", "shares", "exponent"}

const stretchExpected = "end, a joint's name or a mapping of by, limits, shares, exponent"

func (s *Stretch) withDefaults() *Stretch {
	if s == nil || s.By != "" {
		return s
	}
	out := *s
	out.By = StretchByEnd
	return &out
}

// check says what is wrong with a limb's stretch: the key at fault, the place
// in its list or -1, and the matter, to be read after the key.
func (s *Stretch) check(limb LimbSpec) (key string, index int, err error) {
	switch {
	case s == nil:
		return "", -1, nil
	case s.By == StretchByEnd && limb.End.Point != nil:
		return "by", -1, errors.New("is end, and the limb ends at a point, expected a joint's name")
	case s.By == limb.Joint && s.By != StretchByEnd:
		return "by", -1, fmt.Errorf("is %q, the limb's joint itself, expected another", s.By)
	case s.Exponent != nil && !(*s.Exponent >= 0 && *s.Exponent <= 1):
		return "exponent", -1, fmt.Errorf("is %g, expected 0 to 1", *s.Exponent)
	case s.Limits != [2]float64{}:
		if err := checkStretchLimits(s.Limits); err != nil {
			return "limits", -1, err
		}
	}
	if s.Shares == nil {
		return "", -1, nil
	}
	if n := limb.segments(); len(s.Shares) != n {
		return "shares", -1, fmt.Errorf("has %d numbers, expected %d, one for each segment", len(s.Shares), n)
	}
	sum := 0.
	for i, x := range s.Shares {
		if !(x >= 0 && x <= 1) {
			return "shares", i, fmt.Errorf("has %g at place %d, expected 0 to 1", x, i+1)
		}
		sum += x
	}
	if math.Abs(sum-1) > chain.MaxShareSumError {
		return "shares", -1, fmt.Errorf("sums to %g, expected 1", sum)
	}
	return "", -1, nil
}

func checkStretchLimits(limits [2]float64) error {
	if !(limits[0] > 0 && limits[0] <= 1 && limits[1] >= 1 && limits[1]*0 == 0) {
		return fmt.Errorf("is %s, expected the least ratio, more than 0 and at most 1, and the greatest, 1 or more", numberList(limits[:]))
	}
	return nil
}

// stretch reads a limb's stretch. What is wrong within the whole limb, check
// finds.
func (r limbReader) stretch(n ast.Node) (*Stretch, error) {
	out := &Stretch{}
	var err error
	if isYesOrNo(n) {
		return nil, r.at(n, "stretch is %s, expected %s", n.GetToken().Value, stretchExpected)
	}
	if !isMapping(n) {
		out.By, err = r.textOr("stretch", n, stretchExpected)
		return out, err
	}
	entries, err := r.mapping(n, stretchExpected, stretchKeys)
	if err != nil {
		return nil, err
	}
	if e, ok := entries["by"]; ok {
		if out.By, err = r.textOr("stretch by", e.value, "end or a joint's name"); err != nil {
			return nil, err
		}
	}
	if e, ok := entries["limits"]; ok {
		if out.Limits, err = r.two("stretch limits", "[least, greatest]", e.value); err != nil {
			return nil, err
		}
		// [0, 0] stands for the default in a LimbSpec, never in a file.
		if err := checkStretchLimits(out.Limits); err != nil {
			return nil, r.at(e.value, "stretch limits %v", err)
		}
	}
	if e, ok := entries["shares"]; ok {
		list, ok := e.value.(*ast.SequenceNode)
		if !ok {
			return nil, r.at(e.value, "stretch shares is %s, expected a list of numbers", describe(e.value))
		}
		if out.Shares, err = r.numbers("stretch shares", list); err != nil {
			return nil, err
		}
	}
	if e, ok := entries["exponent"]; ok {
		x, err := r.oneNumber("stretch exponent", e.value)
		if err != nil {
			return nil, err
		}
		out.Exponent = &x
	}
	return out, nil
}

// isYesOrNo reports whether a node is a bare yes or no of any kind, as people
// write to turn a thing on. A joint of that name stands in quotes.
func isYesOrNo(n ast.Node) bool {
	switch s := n.(type) {
	case *ast.BoolNode:
		return true
	case *ast.StringNode:
		return s.Token.Type == token.StringType && wordOfYAML.MatchString(s.Value)
	}
	return false
}

// oneNumber reads a finite number.
func (r limbReader) oneNumber(key string, n ast.Node) (float64, error) {
	x, ok := number(n)
	if !ok {
		return 0, r.at(n, "%s is %s, expected a finite number", key, shown(n))
	}
	return x, nil
}

// isMapping reports whether a node is a mapping of any size.
func isMapping(n ast.Node) bool {
	switch n.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		return true
	}
	return false
}

// mappingValues are the entries of a mapping of any size; none of anything else.
func mappingValues(n ast.Node) []*ast.MappingValueNode {
	switch m := n.(type) {
	case *ast.MappingNode:
		return m.Values
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{m}
	}
	return nil
}

// innerNode is the value of a key of a mapping, or n itself where it has none.
func innerNode(n ast.Node, key string) ast.Node {
	for _, v := range mappingValues(n) {
		if name, _ := text(v.Key); name == key {
			return v.Value
		}
	}
	return n
}

// yaml writes the stretch as a limb file has it.
func (s *Stretch) yaml() string {
	if s.Limits == [2]float64{} && s.Shares == nil && s.Exponent == nil {
		return scalar(s.By)
	}
	parts := []string{"by: " + scalar(s.By)}
	if s.Limits != [2]float64{} {
		parts = append(parts, "limits: "+numberList(s.Limits[:]))
	}
	if s.Shares != nil {
		parts = append(parts, "shares: "+numberList(s.Shares))
	}
	if s.Exponent != nil {
		parts = append(parts, "exponent: "+numberText(*s.Exponent))
	}
	return "{" + strings.Join(parts, ", ") + "}"
}
