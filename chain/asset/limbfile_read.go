package asset

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/pronate/pronate/internal/printable"
)

//go:embed limbs.schema.json
var limbsSchema string

// LimbsSchema is the JSON Schema (draft 2020-12) of the limb file, for editors
// and pipelines. It says all that ParseLimbs asks for but what no
// schema can: that names and joints are there once, that a list of shares has
// as many numbers as there are segments, that those of a stretch sum to 1, that a
// range has its least limit first and directions at right angles, a crease its onset
// first, and which fields go
// with which centre, range and end.
func LimbsSchema() string { return limbsSchema }

// A limb file may not be larger, and not nest deeper, than any could need.
const (
	maxLimbFile    = 1 << 20
	maxLimbNesting = 16
)

// keys of one limb, in the order a file is written.
var limbKeys = []string{"name", "joint", "end", "segments", "twist", "tip", "shares", "anchor", "centre", "range", "field", "stretch", "crease", "exclude", "rigid"}

// ParseLimbs reads a limb file. name is for messages, which are one line each,
// "limbs.yaml:7:5: what is wrong, expected what", with line and column. Unknown
// keys, keys given twice and YAML's anchors, aliases and tags are refused.
func ParseLimbs(name string, data []byte) (Limbs, error) {
	r := limbReader{name: printable.Text(name)}
	body, err := r.parse(data, "a limb file", "\"version: 1\" and \"limbs:\"")
	if err != nil {
		return Limbs{}, err
	}
	return r.limbs(body)
}

// parse reads a file of one document. kind and expected are for messages.
func (r limbReader) parse(data []byte, kind, expected string) (body ast.Node, err error) {
	// The parser is not ours and reads what people typed.
	defer func() {
		if p := recover(); p != nil {
			body, err = nil, fmt.Errorf("%s: malformed YAML: %s", r.name, printable.Text(fmt.Sprint(p)))
		}
	}()
	if len(data) > maxLimbFile {
		return nil, fmt.Errorf("%s: has %d bytes, expected %s of %d at most", r.name, len(data), kind, maxLimbFile)
	}
	tokens, err := r.tokens(string(data), kind)
	if err != nil {
		return nil, err
	}
	file, err := parser.Parse(tokens, 0)
	if err != nil {
		return nil, r.syntax(err)
	}
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if body != nil {
			return nil, r.at(doc.Body, "a second document, expected one")
		}
		body = doc.Body
	}
	if body == nil {
		return nil, fmt.Errorf("%s:1:1: is empty, expected %s", r.name, expected)
	}
	return body, nil
}

// limbReader turns a parsed limb file into Limbs.
type limbReader struct {
	name   string
	within string // `limb "left thigh": ` inside a limb whose name is known
}

// entry is one key of a mapping with its value.
type entry struct{ key, value ast.Node }

// meant asks after the known key that another one is a letter or two off, or begins.
func meant(key string, known []string) string {
	const letters = 2
	for _, k := range known {
		if len(key) > letters && len(key) <= len(k)+letters && (strings.HasPrefix(k, key) || editDistance([]rune(key), []rune(k)) <= letters) {
			return fmt.Sprintf("; did you mean %s?", k)
		}
	}
	return ""
}

// mapping reads a mapping whose keys all are among those known.
func (r limbReader) mapping(n ast.Node, what string, known []string) (map[string]entry, error) {
	if !isMapping(n) {
		return nil, r.at(n, "%s, expected %s", describe(n), what)
	}
	out := map[string]entry{}
	for _, v := range mappingValues(n) {
		key, ok := text(v.Key)
		if !ok || !slices.Contains(known, key) {
			return nil, r.at(v.Key, "unknown key %s, expected one of %s%s", shorten(fmt.Sprintf("%q", v.Key.GetToken().Value)), strings.Join(known, ", "), meant(key, known))
		}
		if _, twice := out[key]; twice {
			return nil, r.at(v.Key, "key %q a second time", key)
		}
		out[key] = entry{v.Key, v.Value}
	}
	return out, nil
}

func (r limbReader) limbs(body ast.Node) (Limbs, error) {
	top, err := r.mapping(body, "\"version: 1\" and \"limbs:\"", []string{"version", "resolved", "limbs"})
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
	if !ok {
		return Limbs{}, r.at(list.value, "limbs is %s, expected a list, which is [] for no limbs", describe(list.value))
	}
	limbs := Limbs{Version: LimbsVersion, Limbs: []LimbSpec{}}
	if e, ok := top["resolved"]; ok {
		b, isBool := e.value.(*ast.BoolNode)
		if !isBool {
			return Limbs{}, r.at(e.value, "resolved is %s, expected true or false", shown(e.value))
		}
		limbs.Resolved = b.Value
	}
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
	r.within = withinLimb(n)
	entries, err := r.mapping(n, "a limb: joint, end, …", limbKeys)
	if err != nil {
		return LimbSpec{}, nil, err
	}
	if _, ok := entries["joint"]; !ok {
		return LimbSpec{}, nil, r.at(n, "the limb has no joint, expected the joint whose bone is split, such as joint: thigh_l")
	}
	if _, ok := entries["end"]; !ok {
		return LimbSpec{}, nil, r.at(n, "the limb has no end, expected a joint below it or a point [x, y, z], such as end: shin_l")
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
		key, inner, _ := strings.Cut(field, " ")
		e, ok := entries[key]
		if !ok { // only a tip that is missing: the twist asks for it
			e, ok = entries["twist"]
		}
		if ok {
			where = e.value
			if inner != "" {
				where = innerNode(where, inner)
			}
			if list, ok := where.(*ast.SequenceNode); ok && index >= 0 && index < len(list.Values) {
				where = list.Values[index]
			}
		}
		return LimbSpec{}, nil, r.at(where, "%s %v", field, err)
	}
	spec.place = r.placeOf(n, entries)
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
	case "field":
		spec.Field, err = r.text(key, n)
	case "range":
		spec.Range, err = r.motionRange(n)
	case "stretch":
		spec.Stretch, err = r.stretch(n)
	case "crease":
		spec.Crease, err = r.crease(n)
	case "exclude":
		spec.Exclude, err = r.skinParts(key, n)
	case "rigid":
		spec.Rigid, err = r.skinParts(key, n)
	case "segments":
		if word, ok := text(n); ok && word == SegmentsAuto {
			spec.Segments = 0
			return nil
		}
		v, ok := number(n)
		// 0 stands for auto in a LimbSpec, never in a file.
		if !ok || v != float64(int(v)) || v < minSegments || v > maxSegments {
			return r.at(n, "segments %v", errSegments(shown(n)))
		}
		spec.Segments = int(v)
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
