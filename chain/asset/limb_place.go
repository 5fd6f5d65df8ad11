package asset

import (
	"fmt"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// filePlace is where a limb file has a limb, for messages about what only the
// character can tell.
type filePlace struct {
	file string
	keys map[string]string // line and column of each key's value, as "3:12"; "" is the limb itself, "crease at" a key in a key, "exclude meshes 0" an element of its list
}

// placeOf notes where a limb and its keys stand.
func (r limbReader) placeOf(limb ast.Node, entries map[string]entry) *filePlace {
	p := &filePlace{file: r.name, keys: map[string]string{"": position(limb)}}
	for key, e := range entries {
		p.keys[key] = position(e.value)
		for _, v := range mappingValues(e.value) {
			if inner, ok := text(v.Key); ok {
				p.keys[key+" "+inner] = position(v.Value)
				if list, ok := v.Value.(*ast.SequenceNode); ok {
					for i, item := range list.Values {
						p.keys[fmt.Sprintf("%s %s %d", key, inner, i)] = position(item)
					}
				}
			}
		}
	}
	return p
}

// where is what a message about one of the limb's keys begins with: file, line
// and column where the limb came from a file, or else the character's name. A
// key that the file leaves out is the one around it, or the limb.
func (s LimbSpec) where(character, key string) string {
	if s.place == nil {
		return character
	}
	for {
		if at, ok := s.place.keys[key]; ok {
			return s.place.file + ":" + at
		}
		key = key[:max(strings.LastIndex(key, " "), 0)]
	}
}

// errorf is an error of a limb, at one of its keys.
func (s LimbSpec) errorf(f *File, key, format string, args ...any) error {
	return fmt.Errorf("%s: limb %q: %w", s.where(f.Name, key), s.Name, fmt.Errorf(format, args...))
}

// ownWords is what an error of the packages below says, without their names and
// the limb's, which are said already.
func ownWords(err error, limb string) string {
	text := err.Error()
	for _, name := range []string{"chain: ", "rest: ", "swing: ", "twist: ", fmt.Sprintf("limb %q: ", limb)} {
		text = strings.TrimPrefix(text, name)
	}
	return text
}

// withinLimb is what messages inside a limb begin with: its name or, as long as
// that is the default, its joint.
func withinLimb(n ast.Node) string {
	for _, key := range []string{"name", "joint"} {
		if value := innerNode(n, key); value != n {
			if s, ok := text(value); ok && s != "" {
				return fmt.Sprintf("limb %q: ", s)
			}
		}
	}
	return ""
}
