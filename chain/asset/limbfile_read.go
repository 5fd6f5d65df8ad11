package asset

import (
	_ "embed"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

//go:embed limbs.schema.json
var limbsSchema string

// LimbsSchema is the JSON Schema (draft 2020-12) of the limb file, for editors
// and pipelines. It says all that ParseLimbs asks for but three things that no
// schema can: that names and joints are there once, that a list of shares has
// as many numbers as there are segments, and what a character's joints are
// called.
func LimbsSchema() string { return limbsSchema }

// A limb file may not be larger, and not nest deeper, than any could need.
const (
	maxLimbFile    = 1 << 20
	maxLimbNesting = 16
)

// keys of one limb, in the order a file is written.
var limbKeys = []string{"name", "joint", "end", "segments", "twist", "tip", "shares", "anchor", "centre"}

// ParseLimbs reads a limb file. name is for messages, which are one line each,
// "limbs.yaml:7:5: what is wrong, expected what", with line and column. Unknown
// keys, keys given twice and YAML's anchors, aliases and tags are refused.
func ParseLimbs(name string, data []byte) (limbs Limbs, err error) {
	r := limbReader{name: printable(name)}
	// The parser is not ours and reads what people typed.
	defer func() {
		if p := recover(); p != nil {
			limbs, err = Limbs{}, fmt.Errorf("%s: malformed YAML: %s", r.name, printable(fmt.Sprint(p)))
		}
	}()
	if len(data) > maxLimbFile {
		return Limbs{}, fmt.Errorf("%s: has %d bytes, expected a limb file of %d at most", r.name, len(data), maxLimbFile)
	}
	tokens := lexer.Tokenize(string(data))
	if err := r.bounded(tokens); err != nil {
		return Limbs{}, err
	}
	file, err := parser.Parse(tokens, 0)
	if err != nil {
		return Limbs{}, r.syntax(err)
	}
	var body ast.Node
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if body != nil {
			return Limbs{}, r.at(doc.Body, "a second document, expected one")
		}
		body = doc.Body
	}
	if body == nil {
		return Limbs{}, fmt.Errorf("%s:1:1: is empty, expected \"version: 1\" and \"limbs:\"", r.name)
	}
	return r.limbs(body)
}

// limbReader turns a parsed limb file into Limbs.
type limbReader struct{ name string }

// bounded refuses what would cost the parser more than a limb file can be
// worth: it takes stack for each level of nesting.
func (r limbReader) bounded(tokens token.Tokens) error {
	open, run := 0, 0 // brackets open; tokens in a row that each begin a level
	for _, t := range tokens {
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			open++
			run++
		case token.SequenceEndType, token.MappingEndType:
			open--
			run = 0
		case token.SequenceEntryType, token.MappingKeyType, token.MappingValueType, token.AnchorType, token.TagType:
			run++
		default:
			run = 0
		}
		if max(open, run) > maxLimbNesting {
			return fmt.Errorf("%s:%d:%d: is nested more than %d deep, expected a limb file", r.name, t.Position.Line, t.Position.Column, maxLimbNesting)
		}
	}
	return nil
}

// syntax words an error of the YAML parser.
func (r limbReader) syntax(err error) error {
	var located yaml.Error
	if errors.As(err, &located) {
		line, column := 1, 1
		if t := located.GetToken(); t != nil && t.Position != nil {
			line, column = t.Position.Line, t.Position.Column
		}
		return fmt.Errorf("%s:%d:%d: %s", r.name, line, column, shorten(printable(located.GetMessage())))
	}
	return fmt.Errorf("%s: %s", r.name, shorten(printable(err.Error())))
}

// at is an error at a node's place.
func (r limbReader) at(n ast.Node, format string, args ...any) error {
	line, column := place(n)
	return fmt.Errorf("%s:%d:%d: %s", r.name, line, column, fmt.Sprintf(format, args...))
}

// place is where a node begins. A mapping's own token is a colon.
func place(n ast.Node) (line, column int) {
	switch m := n.(type) {
	case *ast.MappingNode:
		if !m.IsFlowStyle && len(m.Values) > 0 {
			return place(m.Values[0].Key)
		}
	case *ast.MappingValueNode:
		return place(m.Key)
	}
	if n == nil || n.GetToken() == nil || n.GetToken().Position == nil {
		return 1, 1
	}
	p := n.GetToken().Position
	return p.Line, p.Column
}

// entry is one key of a mapping with its value.
type entry struct{ key, value ast.Node }

// mapping reads a mapping whose keys all are among those known.
func (r limbReader) mapping(n ast.Node, what string, known []string) (map[string]entry, error) {
	var values []*ast.MappingValueNode
	switch m := n.(type) {
	case *ast.MappingNode:
		values = m.Values
	case *ast.MappingValueNode:
		values = []*ast.MappingValueNode{m}
	default:
		return nil, r.at(n, "%s, expected %s", describe(n), what)
	}
	out := map[string]entry{}
	for _, v := range values {
		key, ok := text(v.Key)
		if !ok || !slices.Contains(known, key) {
			return nil, r.at(v.Key, "unknown key %s, expected one of %s", shorten(fmt.Sprintf("%q", v.Key.GetToken().Value)), strings.Join(known, ", "))
		}
		if _, twice := out[key]; twice {
			return nil, r.at(v.Key, "key %q a second time", key)
		}
		out[key] = entry{v.Key, v.Value}
	}
	return out, nil
}

func (r limbReader) limbs(body ast.Node) (Limbs, error) {
	top, err := r.mapping(body, "\"version: 1\" and \"limbs:\"", []string{"version", "limbs"})
	if err != nil {
		return Limbs{}, err
	}
	version, ok := top["version"]
	if !ok {
		return Limbs{}, r.at(body, "has no version, expected \"version: %d\"", LimbsVersion)
	}
	if v, ok := number(version.value); !ok || v != LimbsVersion {
		return Limbs{}, r.at(version.value, "version is %s, expected %d", shown(version.value), LimbsVersion)
	}
	list, ok := top["limbs"]
	if !ok {
		return Limbs{}, r.at(body, "has no limbs, expected a list under \"limbs:\"")
	}
	items, ok := list.value.(*ast.SequenceNode)
	if !ok || len(items.Values) == 0 {
		return Limbs{}, r.at(list.value, "limbs is %s, expected a list of one or more", describe(list.value))
	}
	limbs := Limbs{Version: LimbsVersion}
	names, joints := map[string]int{}, map[string]int{}
	for _, item := range items.Values {
		spec, entries, err := r.limb(item)
		if err != nil {
			return Limbs{}, err
		}
		line, _ := place(item)
		where := item
		if e, ok := entries["name"]; ok {
			where = e.value
		}
		if other, twice := names[spec.Name]; twice {
			return Limbs{}, r.at(where, "name %q is that of the limb in line %d, expected another", spec.Name, other)
		}
		if other, twice := joints[spec.Joint]; twice {
			return Limbs{}, r.at(entries["joint"].value, "joint %q is split by the limb in line %d, expected one limb a joint", spec.Joint, other)
		}
		names[spec.Name], joints[spec.Joint] = line, line
		limbs.Limbs = append(limbs.Limbs, spec)
	}
	return limbs, nil
}

// limb reads one limb and returns its entries, for messages.
func (r limbReader) limb(n ast.Node) (LimbSpec, map[string]entry, error) {
	entries, err := r.mapping(n, "a limb: joint, end, …", limbKeys)
	if err != nil {
		return LimbSpec{}, nil, err
	}
	for _, key := range []string{"joint", "end"} {
		if _, ok := entries[key]; !ok {
			return LimbSpec{}, nil, r.at(n, "the limb has no %s", key)
		}
	}
	var spec LimbSpec
	for _, key := range limbKeys {
		e, ok := entries[key]
		if !ok {
			continue
		}
		if err := r.field(&spec, key, e.value); err != nil {
			return LimbSpec{}, nil, err
		}
	}
	spec = spec.withDefaults()
	if field, index, err := spec.check(); err != nil {
		where := n
		e, ok := entries[field]
		if !ok { // only a tip that is missing: the twist asks for it
			e, ok = entries["twist"]
		}
		if ok {
			where = e.value
			if list, ok := where.(*ast.SequenceNode); ok && index >= 0 && index < len(list.Values) {
				where = list.Values[index]
			}
		}
		return LimbSpec{}, nil, r.at(where, "%s %v", field, err)
	}
	return spec, entries, nil
}

func (r limbReader) field(spec *LimbSpec, key string, n ast.Node) error {
	var err error
	switch key {
	case "name":
		spec.Name, err = r.text(key, n)
	case "joint":
		spec.Joint, err = r.text(key, n)
	case "tip":
		spec.Tip, err = r.text(key, n)
	case "anchor":
		spec.Anchor, err = r.text(key, n)
	case "twist":
		spec.Twist, err = r.text(key, n)
	case "segments":
		v, ok := number(n)
		if !ok || v != float64(int(v)) {
			return r.at(n, "segments is %s, expected a whole number from %d to %d", shown(n), minSegments, maxSegments)
		}
		// 0 stands for the default in a LimbSpec, never in a file.
		if spec.Segments = int(v); spec.Segments == 0 {
			spec.Segments = -1
		}
	case "end":
		if list, ok := n.(*ast.SequenceNode); ok {
			spec.End.Point, err = r.three(key, list)
		} else {
			spec.End.Joint, err = r.textOr(key, n, "a joint's name or a point [x, y, z]")
		}
	case "centre":
		if list, ok := n.(*ast.SequenceNode); ok {
			spec.Centre.Direction, err = r.three(key, list)
		} else {
			spec.Centre.Mode, err = r.textOr(key, n, "auto, none or a direction [x, y, z]")
		}
	case "shares":
		if list, ok := n.(*ast.SequenceNode); ok {
			spec.Shares.List, err = r.numbers(key, list)
		} else {
			spec.Shares.Ramp, err = r.textOr(key, n, "linear, smooth or a list of numbers")
		}
	}
	return err
}

func (r limbReader) text(key string, n ast.Node) (string, error) {
	return r.textOr(key, n, "a text")
}

func (r limbReader) textOr(key string, n ast.Node, expected string) (string, error) {
	s, ok := text(n)
	switch {
	case ok && s == "":
		return "", r.at(n, "%s is empty, expected %s", key, expected)
	case ok:
		return s, nil
	}
	switch n.(type) {
	case *ast.IntegerNode, *ast.FloatNode, *ast.StringNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return "", r.at(n, "%s is %s, which YAML takes for %s, expected %s: put it in quotes", key, shown(n), kindOf(n), expected)
	}
	return "", r.at(n, "%s is %s, expected %s", key, describe(n), expected)
}

func (r limbReader) numbers(key string, list *ast.SequenceNode) ([]float64, error) {
	out := make([]float64, len(list.Values))
	for i, item := range list.Values {
		x, ok := number(item)
		if !ok {
			return nil, r.at(item, "%s[%d] is %s, expected a finite number", key, i, shown(item))
		}
		out[i] = x
	}
	return out, nil
}

func (r limbReader) three(key string, list *ast.SequenceNode) (*[3]float64, error) {
	out, err := r.numbers(key, list)
	if err != nil {
		return nil, err
	}
	if len(out) != 3 {
		return nil, r.at(list, "%s has %d numbers, expected 3", key, len(out))
	}
	return (*[3]float64)(out), nil
}

func text(n ast.Node) (string, bool) {
	switch s := n.(type) {
	case *ast.StringNode:
		return s.Value, !isBareNumber(s)
	case *ast.LiteralNode:
		return s.Value.Value, true
	}
	return "", false
}

// number reads a finite number.
func number(n ast.Node) (float64, bool) {
	switch v := n.(type) {
	case *ast.IntegerNode:
		switch i := v.Value.(type) {
		case int64:
			return float64(i), true
		case uint64:
			return float64(i), true
		}
	case *ast.FloatNode:
		return v.Value, v.Value*0 == 0
	case *ast.StringNode:
		if isBareNumber(v) {
			x, err := strconv.ParseFloat(v.Value, 64)
			return x, err == nil
		}
	}
	return 0, false
}

// A number of YAML 1.2, section 10.3.2. The parser takes one that has an
// exponent but no point for a text.
var bareNumber = regexp.MustCompile(`^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$`)

func isBareNumber(s *ast.StringNode) bool {
	return s.Token.Type == token.StringType && bareNumber.MatchString(s.Value)
}

// shown is a scalar as it was written.
func shown(n ast.Node) string {
	if n == nil || n.GetToken() == nil {
		return "nothing"
	}
	switch n.(type) {
	case *ast.SequenceNode, *ast.MappingNode, *ast.MappingValueNode, *ast.NullNode:
		return describe(n)
	case *ast.StringNode, *ast.LiteralNode:
		if s, ok := text(n); ok {
			return shorten(fmt.Sprintf("%q", s))
		}
	}
	return shorten(printable(n.GetToken().Value))
}

// describe says what kind of thing a node is.
func describe(n ast.Node) string {
	switch v := n.(type) {
	case nil, *ast.NullNode:
		return "nothing"
	case *ast.SequenceNode:
		if len(v.Values) == 0 {
			return "an empty list"
		}
		return "a list"
	case *ast.MappingNode, *ast.MappingValueNode:
		return "a mapping"
	case *ast.StringNode, *ast.LiteralNode:
		if s, ok := text(n); ok {
			return "the text " + shorten(fmt.Sprintf("%q", s))
		}
	}
	return kindOf(n)
}

func kindOf(n ast.Node) string {
	switch n.(type) {
	case *ast.IntegerNode, *ast.FloatNode, *ast.StringNode, *ast.InfinityNode, *ast.NanNode:
		return "a number"
	case *ast.BoolNode:
		return "true or false"
	case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode, *ast.MergeKeyNode:
		return "a YAML " + strings.ToLower(n.Type().YAMLName())
	}
	return "something else"
}
