package asset

import (
	"encoding/json"
	"strings"
)

// humanBone is what a VRM file says a node is.
type humanBone struct {
	role role
	side int
}

// vrmBones are the bones of VRM's humanoid that limbs are made of, without the
// side, in the order in which they hang below each other. VRM 0.x and 1.0 call
// them the same.
var vrmBones = []struct {
	name string
	role role
}{
	{"Shoulder", clavicle}, {"UpperArm", upperArm}, {"LowerArm", forearm}, {"Hand", hand},
	{"UpperLeg", thigh}, {"LowerLeg", shin}, {"Foot", foot},
}

// humanoid reads the map of human bones that a VRM file has: VRM 1.0
// (VRMC_vrm) or else 0.x (VRM). It is nil where the file has none, or one that
// cannot be right: an index out of range, a node for two bones, a bone that is
// not below the one before it in its limb.
func (f *File) humanoid() map[int]humanBone {
	nodes := f.vrmNodes()
	if nodes == nil {
		return nil
	}
	out := map[int]humanBone{}
	for sideName, side := range map[string]int{"left": 1, "right": -1} {
		above := -1
		for _, bone := range vrmBones {
			node, ok := nodes[sideName+bone.name]
			if bone.role == thigh {
				above = -1
			}
			if !ok {
				continue
			}
			if _, twice := out[node]; twice || above >= 0 && !f.isBelow(node, above) {
				return nil
			}
			out[node] = humanBone{bone.role, side}
			above = node
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// isBelow reports whether a node is somewhere below another.
func (f *File) isBelow(node, above int) bool {
	for node = f.parent[node]; node >= 0; node = f.parent[node] {
		if node == above {
			return true
		}
	}
	return false
}

// vrmNodes are the nodes of a VRM file's human bones by name, each in range; nil
// where there are none or something has another shape than VRM asks for.
func (f *File) vrmNodes() map[string]int {
	extensions, ok := objectOf(f.root["extensions"])
	if !ok {
		return nil
	}
	out := map[string]int{}
	add := func(name string, node json.RawMessage) bool {
		at := -1
		if json.Unmarshal(node, &at) != nil || at < 0 || at >= len(f.Doc.Nodes) {
			return false
		}
		if _, twice := out[name]; twice {
			return false
		}
		out[name] = at
		return true
	}
	bones := func(extension string) json.RawMessage {
		humanoid, _ := objectOf(extensions[extension])
		human, _ := objectOf(humanoid["humanoid"])
		return human["humanBones"]
	}
	if byName, ok := objectOf(bones("VRMC_vrm")); ok {
		for name, value := range byName {
			bone, _ := objectOf(value)
			if !add(name, bone["node"]) {
				return nil
			}
		}
		return out
	}
	var list []map[string]json.RawMessage
	if json.Unmarshal(bones("VRM"), &list) != nil {
		return nil
	}
	for _, bone := range list {
		var name string
		if json.Unmarshal(bone["bone"], &name) != nil || !add(name, bone["node"]) {
			return nil
		}
	}
	return out
}

// objectOf reads a JSON object; keys keep their case.
func objectOf(data json.RawMessage) (object map[string]json.RawMessage, ok bool) {
	if json.Unmarshal(data, &object) != nil {
		return nil, false
	}
	return object, object != nil
}

// facing is 1 for a character that faces +Z, as glTF 2.0 (section 3.4) and VRM
// 1.0 have it, and -1 for one that faces -Z, as VRM 0.x does. It is the sign of
// its left side along X, too.
func (f *File) facing() float64 {
	extensions, _ := objectOf(f.root["extensions"])
	_, is1 := objectOf(extensions["VRMC_vrm"])
	vrm, is0 := objectOf(extensions["VRM"])
	if !is0 || is1 {
		return 1
	}
	// Files with another major version are not known to face -Z.
	var version string
	if json.Unmarshal(vrm["specVersion"], &version) == nil && !strings.HasPrefix(version, "0.") {
		return 1
	}
	return -1
}
