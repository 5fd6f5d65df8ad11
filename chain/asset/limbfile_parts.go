package asset

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

var skinPartsKeys = []string{"meshes", "materials", "pieces"}

const skinPartsExpected = "a mapping of meshes, materials, pieces, each a list of names"

// list is the list of one of the keys.
func (s *SkinParts) list(key string) *[]string {
	switch key {
	case "meshes":
		return &s.Meshes
	case "materials":
		return &s.Materials
	}
	return &s.Pieces
}

// check says what is wrong with parts of a skin: the key at fault, the place in its
// list or -1, and the matter, to be read after the key.
func (s *SkinParts) check() (key string, index int, err error) {
	if s == nil {
		return "", -1, nil
	}
	empty := true
	for _, key := range skinPartsKeys {
		list := *s.list(key)
		for i, name := range list {
			switch {
			case name == "":
				return key, i, fmt.Errorf("has an empty name at place %d, expected a text", i+1)
			case slices.Contains(list[:i], name):
				return key, i, fmt.Errorf("has %q a second time", name)
			}
			empty = false
		}
	}
	if empty {
		return "", -1, errors.New("names nothing, expected names of meshes, materials or pieces")
	}
	return "", -1, nil
}

// skinParts reads parts of a skin. What is wrong with the names, check finds.
func (r limbReader) skinParts(key string, n ast.Node) (*SkinParts, error) {
	if !isMapping(n) {
		return nil, r.at(n, "%s is %s, expected %s", key, shown(n), skinPartsExpected)
	}
	entries, err := r.mapping(n, skinPartsExpected, skinPartsKeys)
	if err != nil {
		return nil, err
	}
	out := &SkinParts{}
	for _, kind := range skinPartsKeys {
		e, ok := entries[kind]
		if !ok {
			continue
		}
		list, ok := e.value.(*ast.SequenceNode)
		if !ok || len(list.Values) == 0 {
			return nil, r.at(e.value, "%s %s is %s, expected a list of names", key, kind, describe(e.value))
		}
		for _, item := range list.Values {
			name, err := r.textOr(key+" "+kind, item, "a name, or \"#\" and an index")
			if err != nil {
				return nil, err
			}
			*out.list(kind) = append(*out.list(kind), name)
		}
	}
	return out, nil
}

// yaml writes parts of a skin as a limb file has them.
func (s *SkinParts) yaml() string {
	var parts []string
	for _, key := range skinPartsKeys {
		var names []string
		for _, name := range *s.list(key) {
			names = append(names, scalar(name))
		}
		if names != nil {
			parts = append(parts, key+": ["+strings.Join(names, ", ")+"]")
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}
