package main

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"

	"github.com/pronate/pronate/chain/asset"
)

// The character of the whole job: joints in tubes of skin, and one long clip that
// turns 60 of them at 60 keys a second and moves the hips.
const (
	wholeRate   = 60 // keys a second
	wholeFrames = 10 * 60 * wholeRate
	wholeRings  = 16 // of vertices, along a bone
	wholeSides  = 12 // vertices in a ring
)

// bone is a joint, where it stands from its parent, and how it turns.
type bone struct {
	name   string
	parent int
	at     [3]float64
	reach  float64    // radians; 0 for a joint that stands still
	lean   [3]float64 // about X, Y and Z, radians: where it turns from
}

// wholeBones is the skeleton: every frame is parallel to the world, +Y up, the
// character's left at +X.
func wholeBones() []bone {
	var out []bone
	add := func(name string, parent int, x, y, z, reach float64) int {
		out = append(out, bone{name: name, parent: parent, at: [3]float64{x, y, z}, reach: reach})
		return len(out) - 1
	}
	hips := add("hips", -1, 0, 1, 0, 0.3)
	spine := hips
	for _, name := range []string{"belly", "waist", "ribs", "chest", "neck", "head"} {
		spine = add(name, spine, 0, 0.1, 0, 0.15)
	}
	chest := spine - 2
	for _, name := range []string{"jaw", "left_eye", "right_eye", "crown", "brow"} {
		add(name, spine, 0, 0.05, 0.08, 0.1)
	}
	for _, side := range []struct {
		name string
		x    float64
	}{{"left_", 1}, {"right_", -1}} {
		thigh := add(side.name+"thigh", hips, 0.1*side.x, -0.05, 0, 0.5)
		shin := add(side.name+"shin", thigh, 0, -0.43, 0, 0.5)
		foot := add(side.name+"foot", shin, 0, -0.42, 0, 0.5)
		add(side.name+"toes", foot, 0, -0.05, 0.14, 0.3)
		collarbone := add(side.name+"collarbone", chest, 0.05*side.x, 0.02, 0, 0.15)
		arm := add(side.name+"upper_arm", collarbone, 0.14*side.x, 0, 0, 0.6)
		out[arm].lean = [3]float64{0, -0.4 * side.x, -0.8 * side.x} // rest is level, life is not
		forearm := add(side.name+"forearm", arm, 0.28*side.x, 0, 0, 0.6)
		hand := add(side.name+"hand", forearm, 0.25*side.x, 0, 0, 0.8)
		for _, finger := range []string{"thumb", "index", "middle", "ring", "little"} {
			parent := hand
			for _, part := range []string{"_1", "_2", "_3"} {
				parent = add(side.name+finger+part, parent, 0.04*side.x, 0, 0, 0.5)
			}
		}
		add(side.name+"pocket", hips, 0.15*side.x, -0.1, 0, 0.1)
	}
	for i := range wholeLimbCount {
		add(fmt.Sprint("still_", i), hips, 0, -0.02*float64(i+1), -0.1, 0)
	}
	return out
}

const wholeLimbCount = 8

// wholeStill are limbs that no clip turns: whoever splits them reads and writes as
// much as with others, and bakes nothing.
func wholeStill() []asset.LimbSpec {
	var out []asset.LimbSpec
	for i := range wholeLimbCount {
		out = append(out, asset.LimbSpec{Joint: fmt.Sprint("still_", i), End: asset.End{Point: &[3]float64{0, -0.1, 0}}, Segments: 4})
	}
	return out
}

// wholeLimbs are up to eight limbs, the most usual first.
func wholeLimbs(count, segments int) []asset.LimbSpec {
	var out []asset.LimbSpec
	for _, limb := range []struct{ joint, end, tip string }{
		{"thigh", "shin", ""}, {"upper_arm", "forearm", ""}, {"forearm", "hand", "hand"}, {"shin", "foot", "foot"},
	} {
		for _, side := range []string{"left_", "right_"} {
			spec := asset.LimbSpec{Joint: side + limb.joint, End: asset.End{Joint: side + limb.end}, Segments: segments}
			switch {
			case limb.tip != "":
				spec.Twist, spec.Tip = asset.TwistTip, side+limb.tip
			case limb.joint == "thigh":
				spec.Range.Name = asset.RangeHip
			default:
				spec.Range.Name = asset.RangeShoulder
			}
			out = append(out, spec)
		}
	}
	return out[:count]
}

// packed collects the data of a file and tells of it as glTF does.
type packed struct {
	bin              []byte
	views, accessors []any
}

func (p *packed) floats(kind string, width int, extra map[string]any, numbers []float32) int {
	start := len(p.bin)
	for _, x := range numbers {
		p.bin = binary.LittleEndian.AppendUint32(p.bin, math.Float32bits(x))
	}
	return p.accessor(start, 5126, kind, len(numbers)/width, extra)
}

func (p *packed) accessor(start, component int, kind string, count int, extra map[string]any) int {
	p.views = append(p.views, map[string]any{"buffer": 0, "byteOffset": start, "byteLength": len(p.bin) - start})
	a := map[string]any{"bufferView": len(p.views) - 1, "componentType": component, "type": kind, "count": count}
	for key, value := range extra {
		a[key] = value
	}
	p.accessors = append(p.accessors, a)
	return len(p.accessors) - 1
}

// wholeCharacter makes the file.
func wholeCharacter(frames int) []byte {
	bones := wholeBones()
	p := &packed{}
	nodes, joints := make([]map[string]any, len(bones)), make([]int, len(bones))
	place := make([][3]float64, len(bones))
	var inverse []float32
	for i, b := range bones {
		nodes[i] = map[string]any{"name": b.name, "translation": b.at}
		joints[i], place[i] = i, b.at
		if b.parent >= 0 {
			for k := range 3 {
				place[i][k] += place[b.parent][k]
			}
			parent := nodes[b.parent]
			children, _ := parent["children"].([]int)
			parent["children"] = append(children, i)
		}
		inverse = append(inverse, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, float32(-place[i][0]), float32(-place[i][1]), float32(-place[i][2]), 1)
	}
	nodes = append(nodes, map[string]any{"name": "body", "mesh": 0, "skin": 0})
	root := map[string]any{
		"asset":       map[string]any{"version": "2.0"},
		"nodes":       nodes,
		"scenes":      []any{map[string]any{"nodes": []int{0, len(bones)}}},
		"skins":       []any{map[string]any{"joints": joints, "inverseBindMatrices": p.floats("MAT4", 16, nil, inverse)}},
		"meshes":      []any{map[string]any{"primitives": []any{p.tubes(bones, place)}}},
		"animations":  []any{p.clip(bones, frames)},
		"accessors":   p.accessors,
		"bufferViews": p.views,
		"buffers":     []any{map[string]any{"byteLength": len(p.bin)}},
	}
	text, err := json.Marshal(root)
	if err != nil {
		panic(err) // maps, strings and finite numbers
	}
	return glb(text, p.bin)
}

// tubes is a tube of points round every bone that has one below it, half of each
// ring's weight handed over towards the ends.
func (p *packed) tubes(bones []bone, place [][3]float64) map[string]any {
	var positions, weights []float32
	var influences []byte
	least, most := place[0], place[0]
	for i, b := range bones {
		if b.parent < 0 {
			continue
		}
		for ring := range wholeRings {
			u := (float64(ring) + 0.5) / wholeRings
			for side := range wholeSides {
				sin, cos := math.Sincos(2 * math.Pi * float64(side) / wholeSides)
				for k, round := range [3]float64{0.05 * cos, 0.02 * cos, 0.05 * sin} {
					x := place[b.parent][k] + u*b.at[k] + round
					least[k], most[k] = min(least[k], x), max(most[k], x)
					positions = append(positions, float32(x))
				}
				share := float32(max(0, u-0.75))
				influences = append(influences, byte(b.parent), byte(i), 0, 0)
				weights = append(weights, 1-share, share, 0, 0)
			}
		}
	}
	box := map[string]any{"min": least, "max": most}
	at := p.floats("VEC3", 3, box, positions)
	start := len(p.bin)
	p.bin = append(p.bin, influences...)
	return map[string]any{"mode": 0, "attributes": map[string]any{
		"POSITION": at, "JOINTS_0": p.accessor(start, 5121, "VEC4", len(influences)/4, nil), "WEIGHTS_0": p.floats("VEC4", 4, nil, weights),
	}}
}

// clip turns each joint about an axis that wanders, by slow and fast waves of its
// own, and walks the hips about.
func (p *packed) clip(bones []bone, frames int) map[string]any {
	times := make([]float32, frames)
	for i := range times {
		times[i] = float32(float64(i) / wholeRate)
	}
	input := p.floats("SCALAR", 1, map[string]any{"min": times[:1], "max": times[frames-1:]}, times)
	var samplers, channels []any
	add := func(node int, path string, output int) {
		channels = append(channels, map[string]any{"sampler": len(samplers), "target": map[string]any{"node": node, "path": path}})
		samplers = append(samplers, map[string]any{"input": input, "output": output, "interpolation": "LINEAR"})
	}
	for i, b := range bones {
		if b.reach == 0 {
			continue
		}
		numbers := make([]float32, 0, 4*frames)
		for f := range frames {
			t, phase := float64(f)/wholeRate, 2.4*float64(i)
			wave := func(axis int, slow, fast float64) float64 {
				return b.lean[axis] + b.reach*(0.8*math.Sin(slow*t+phase)+0.2*math.Sin(fast*t+3*phase))
			}
			x, y, z := wave(0, 2.1, 7.3), wave(1, 1.7, 5.9), wave(2, 2.9, 8.3)
			angle := math.Sqrt(x*x + y*y + z*z)
			sin, cos := math.Sincos(angle / 2)
			if angle > 0 {
				sin /= angle
			}
			numbers = append(numbers, float32(sin*x), float32(sin*y), float32(sin*z), float32(cos))
		}
		add(i, "rotation", p.floats("VEC4", 4, nil, numbers))
	}
	numbers := make([]float32, 0, 3*frames)
	for f := range frames {
		t := float64(f) / wholeRate
		numbers = append(numbers, float32(2*math.Sin(0.1*t)), float32(1+0.03*math.Sin(6*t)), float32(2*math.Sin(0.07*t)))
	}
	add(0, "translation", p.floats("VEC3", 3, nil, numbers))
	return map[string]any{"name": "ten minutes", "samplers": samplers, "channels": channels}
}

// glb lays the two chunks out.
func glb(text, bin []byte) []byte {
	for len(text)%4 != 0 {
		text = append(text, ' ')
	}
	for len(bin)%4 != 0 {
		bin = append(bin, 0)
	}
	out := []byte("glTF")
	out = binary.LittleEndian.AppendUint32(out, 2)
	out = binary.LittleEndian.AppendUint32(out, uint32(12+8+len(text)+8+len(bin)))
	out = binary.LittleEndian.AppendUint32(out, uint32(len(text)))
	out = append(append(out, "JSON"...), text...)
	out = binary.LittleEndian.AppendUint32(out, uint32(len(bin)))
	return append(append(out, "BIN\x00"...), bin...)
}
