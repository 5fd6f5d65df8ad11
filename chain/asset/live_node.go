package asset

import (
	"encoding/json"
	"fmt"

	"gonum.org/v1/gonum/num/quat"
)

// liveNode is a node that constraints need and no skin: a frame or a target.
type liveNode struct {
	at         [3]float64
	turn       quat.Number // zero: none
	constraint object      // nil: none
}

// addNode appends a node below another one; what completes its name, after the
// joint's.
func (s *splitter) addNode(l *limb, what string, parent int, n liveNode) (int, error) {
	node := object{}
	node.set("name", s.freeName(l.base+"_"+what))
	if at := [3]float32{float32(n.at[0]), float32(n.at[1]), float32(n.at[2])}; at != [3]float32{} {
		node.set("translation", at)
	}
	if n.turn != (quat.Number{}) && n.turn != (quat.Number{Real: 1}) {
		node.set("rotation", storedRotation(n.turn))
	}
	if n.constraint != nil {
		node.set("extensions", n.constraint)
	}
	index := s.patch.add("nodes", node)
	return index, s.patch.addChild(parent, index)
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

// addChild appends a child to a node.
func (p *patch) addChild(parent, child int) error {
	return p.edit("nodes", parent, func(o object) error {
		var children []int
		if raw, ok := o["children"]; ok {
			if err := json.Unmarshal(raw, &children); err != nil {
				return fmt.Errorf("%s: nodes[%d]: children: %w", p.file.Name, parent, err)
			}
		}
		o.set("children", append(children, child))
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
	for _, name := range used {
		if name == extension {
			return nil
		}
	}
	p.root["extensionsUsed"] = encode(append(used, extension))
	return nil
}
