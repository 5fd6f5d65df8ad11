package asset

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/pronate/pronate/internal/printable"
	"github.com/qmuntal/gltf"
)

// checkJSON refuses what encoding/json would let through and two readers would
// take differently. data is well formed and nested at most 10,000 deep, which
// json.Unmarshal has seen to.
//
//   - A key twice in one object: glTF 2.0, section 2.7, forbids it, and a typed
//     view may keep one where the raw JSON keeps the other.
//   - A key that differs from a glTF property by case alone: encoding/json takes
//     it for the property, other readers pass over it.
//   - null in an array, which would become a nil pointer.
//   - Arrays of fixed length with another length, which encoding/json fills up
//     or cuts.
func checkJSON(data []byte) error {
	s := jsonScan{data: data}
	for s.at < len(data) {
		if err := s.step(); err != nil {
			return err
		}
	}
	return nil
}

// jsonScan walks JSON byte by byte with its own stack.
type jsonScan struct {
	data  []byte
	at    int
	stack []jsonLevel
	key   string // the last key read
	value bool   // the last key still waits for its value
}

// jsonLevel is one object or array that is open.
type jsonLevel struct {
	array   bool
	key     string // under which it stands
	count   int    // of elements begun, for an array
	foreign bool   // extras or extensions, or within them
	few     []string
	many    map[string]bool
}

// fixedLengths of arrays in a node.
var fixedLengths = map[string]int{"matrix": 16, "rotation": 4, "scale": 3, "translation": 3}

func (s *jsonScan) step() error {
	c := s.data[s.at]
	switch c {
	case ' ', '\t', '\r', '\n', ':':
		s.at++
		return nil
	case ',':
		s.at++
		return nil
	case ']', '}':
		s.at++
		return s.close()
	case '"':
		text := s.string()
		if top := s.top(); top != nil && !top.array && !s.value {
			return s.readKey(text)
		}
		s.element()
		return nil
	case '{', '[':
		s.at++
		s.open(c == '[')
		return nil
	}
	// A number, true, false or null.
	end := s.at
	for end < len(s.data) && !bytes.ContainsRune([]byte(" \t\r\n,]}"), rune(s.data[end])) {
		end++
	}
	if top := s.top(); c == 'n' && top != nil && top.array && !top.foreign {
		return fmt.Errorf("JSON: %s[%d] is null, expected a value", s.path(), top.count)
	}
	s.at = end
	s.element()
	return nil
}

func (s *jsonScan) top() *jsonLevel {
	if len(s.stack) == 0 {
		return nil
	}
	return &s.stack[len(s.stack)-1]
}

// element counts a value that begins.
func (s *jsonScan) element() {
	if top := s.top(); top != nil && top.array {
		top.count++
	}
	s.value = false
}

func (s *jsonScan) open(array bool) {
	level := jsonLevel{array: array}
	if top := s.top(); top != nil {
		level.foreign = top.foreign
		if !top.array {
			level.key = s.key
			level.foreign = level.foreign || s.key == "extras" || s.key == "extensions"
		}
	}
	s.element()
	s.stack = append(s.stack, level)
}

func (s *jsonScan) close() error {
	top := s.top()
	if want, ok := fixedLengths[top.key]; ok && top.array && len(s.stack) == 4 && s.stack[1].key == "nodes" && top.count != want {
		return fmt.Errorf("JSON: %s holds %d numbers, expected %d", s.path(), top.count, want)
	}
	s.stack = s.stack[:len(s.stack)-1]
	return nil
}

// string steps over a string and returns it with its quotes.
func (s *jsonScan) string() []byte {
	end := s.at + 1
	for s.data[end] != '"' {
		if s.data[end] == '\\' {
			end++
		}
		end++
	}
	text := s.data[s.at : end+1]
	s.at = end + 1
	return text
}

func (s *jsonScan) readKey(quoted []byte) error {
	s.key, s.value = string(quoted[1:len(quoted)-1]), true
	if bytes.IndexByte(quoted, '\\') >= 0 || !utf8.Valid(quoted) {
		if err := json.Unmarshal(quoted, &s.key); err != nil {
			return jsonError(err)
		}
	}
	top := s.top()
	if !top.add(s.key) {
		return fmt.Errorf("JSON: %s has the key %q twice", s.path(), s.key)
	}
	freeKeys := top.key == "attributes" || len(s.stack) > 1 && s.stack[len(s.stack)-2].key == "targets"
	if top.foreign || freeKeys {
		return nil
	}
	if property, ok := properties()[fold(s.key)]; ok && property != s.key {
		return fmt.Errorf("JSON: %s has the key %q, expected %q", s.path(), s.key, property)
	}
	return nil
}

// add notes a key; false where the object has it already.
func (l *jsonLevel) add(key string) bool {
	const most = 16 // beyond it, looking one by one is the slower way
	if l.many != nil {
		if l.many[key] {
			return false
		}
		l.many[key] = true
		return true
	}
	for _, other := range l.few {
		if other == key {
			return false
		}
	}
	if l.few = append(l.few, key); len(l.few) > most {
		l.many = make(map[string]bool, 2*most)
		for _, other := range l.few {
			l.many[other] = true
		}
		l.few = nil
	}
	return true
}

// path names the innermost object or array that is open.
func (s *jsonScan) path() string {
	const deepest = 8
	var b strings.Builder
	for i, level := range s.stack {
		if i == deepest {
			b.WriteString("…")
			break
		}
		switch {
		case i == 0:
		case s.stack[i-1].array:
			fmt.Fprintf(&b, "[%d]", s.stack[i-1].count-1)
		case b.Len() > 0:
			b.WriteString("." + printable.Text(level.key))
		default:
			b.WriteString(printable.Text(level.key))
		}
	}
	if b.Len() == 0 {
		return "the root"
	}
	return b.String()
}

// fold maps a key to what encoding/json compares keys by: two letters beyond
// ASCII, the long s and the Kelvin sign, fold into it.
func fold(key string) string { return strings.ToLower(strings.ToUpper(key)) }

// properties are the names of glTF's properties by their folded form, as the
// typed view has them.
var properties = sync.OnceValue(func() map[string]string {
	found := map[string]string{}
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(t reflect.Type) {
		switch t.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array:
			walk(t.Elem())
			return
		case reflect.Struct:
		default:
			return
		}
		if seen[t] {
			return
		}
		seen[t] = true
		for i := range t.NumField() {
			if name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ","); name != "" && name != "-" {
				found[fold(name)] = name
			}
			walk(t.Field(i).Type)
		}
	}
	walk(reflect.TypeFor[gltf.Document]())
	return found
})
