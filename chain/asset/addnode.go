package asset

import (
	"encoding/json"
	"fmt"

	"gonum.org/v1/gonum/num/quat"
)

// newNode is a node that a split adds: a segment, or what constraints need beside.
type newNode struct {
	name       string
	at         [3]float64
	turn       quat.Number // zero: none
	scale      [3]float64  // zero: none
	constraint object      // nil: none
}

// addNode appends a node below another one.
func (p *patch) addNode(parent int, n newNode) (int, error) {
	node := object{}
	node.set("name", n.name)
	if at := [3]float32{float32(n.at[0]), float32(n.at[1]), float32(n.at[2])}; at != [3]float32{} {
		node.set("translation", at)
	}
	if n.turn != (quat.Number{}) && n.turn != (quat.Number{Real: 1}) {
		node.set("rotation", storedRotation(n.turn))
	}
	if scale := [3]float32{float32(n.scale[0]), float32(n.scale[1]), float32(n.scale[2])}; scale != [3]float32{} && scale != [3]float32{1, 1, 1} {
		node.set("scale", scale)
	}
	if n.constraint != nil {
		node.set("extensions", n.constraint)
	}
	index := p.add("nodes", node)
	return index, p.addChild(parent, index)
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
