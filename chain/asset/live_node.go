package asset

import (
	"encoding/json"
	"fmt"
	"slices"
)

// addBeside appends a node that constraints need and no skin, a frame or a target; what
// completes its name, after the joint's.
func (s *splitter) addBeside(l *limb, what string, parent int, n newNode) (int, error) {
	n.name = s.freeName(l.base + "_" + what)
	return s.patch.addNode(parent, n)
}

// freeName makes a name one that no node has: nodes are known by index, people
// know them by name.
func (s *splitter) freeName(name string) string {
	for {
		if _, taken := s.taken[name]; !taken {
			s.taken[name] = -1
			return name
		}
		name += "_"
	}
}

// constraint is a node's extensions with one constraint.
func constraint(kind string, parameters map[string]any) object {
	extensions := object{}
	extensions.set(liveName, map[string]any{"specVersion": "1.0", "constraint": map[string]any{kind: parameters}})
	return extensions
}

// constrain gives a segment, which has no other extensions, a constraint.
func (s *splitter) constrain(node int, extensions object) error {
	return s.patch.edit("nodes", node, func(o object) error {
		o.set("extensions", extensions)
		return nil
	})
}

// use lists an extension as used, once.
func (p *patch) use(extension string) error {
	var used []string
	if raw, ok := p.root["extensionsUsed"]; ok {
		if err := json.Unmarshal(raw, &used); err != nil {
			return fmt.Errorf("%s: extensionsUsed: %w", p.file.Name, err)
		}
	}
	if slices.Contains(used, extension) {
		return nil
	}
	p.root["extensionsUsed"] = encode(append(used, extension))
	return nil
}
