package asset

import (
	"github.com/goccy/go-yaml/ast"
	"github.com/pronate/pronate/internal/printable"
)

// RangeFile is a range of motion in a file of its own: what a sweep goes over.
// [ParseRange] reads it.
//
//	name: stiff hip
//	flexion_deg: [-10, 90]
//	abduction_deg: [-20, 30]
//	rest_deg: [0, 10]
type RangeFile struct {
	Name    string     // for titles and file names; default "range"
	Range   Range      // limits, not a name
	RestDeg [2]float64 // flexion and abduction of the limb at rest, within the limits; default 0 and 0
}

// ParseRange reads a range file. name is for messages, which are one line each
// with line and column; unknown keys are refused.
func ParseRange(name string, data []byte) (RangeFile, error) {
	r := limbReader{name: printable.Text(name)}
	body, err := r.parse(data, "a range file", "flexion_deg and abduction_deg")
	if err != nil {
		return RangeFile{}, err
	}
	entries, err := r.mapping(body, "a range: flexion_deg and abduction_deg", append([]string{"name", "rest_deg"}, limitKeys...))
	if err != nil {
		return RangeFile{}, err
	}
	out := RangeFile{Name: "range"}
	if e, ok := entries["name"]; ok {
		if out.Name, err = r.text("name", e.value); err != nil {
			return RangeFile{}, err
		}
	}
	if out.Range, err = r.limits(body, entries); err != nil {
		return RangeFile{}, err
	}
	if err := out.Range.check(); err != nil {
		return RangeFile{}, r.at(limitAtFault(out.Range, entries), "range %v", err)
	}
	if e, ok := entries["rest_deg"]; ok {
		if out.RestDeg, err = r.two("rest_deg", "[flexion, abduction] in degrees", e.value); err != nil {
			return RangeFile{}, err
		}
		flexion, abduction := out.Range.FlexionDeg, out.Range.AbductionDeg
		if !(out.RestDeg[0] >= flexion[0] && out.RestDeg[0] <= flexion[1] && out.RestDeg[1] >= abduction[0] && out.RestDeg[1] <= abduction[1]) {
			return RangeFile{}, r.at(e.value, "rest_deg is %s, expected flexion within %s and abduction within %s", numberList(out.RestDeg[:]), numberList(flexion[:]), numberList(abduction[:]))
		}
	}
	return out, nil
}

// limitAtFault is the list that a range's check speaks of: flexion comes first.
func limitAtFault(r Range, entries map[string]entry) ast.Node {
	r.AbductionDeg = [2]float64{0, 1}
	if r.check() != nil {
		return entries["flexion_deg"].value
	}
	return entries["abduction_deg"].value
}
