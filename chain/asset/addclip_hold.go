package asset

import (
	"encoding/binary"
	"encoding/json"
	"math"

	"github.com/qmuntal/gltf"
)

// newAnimation is an animation in the making, as glTF has it.
type newAnimation struct {
	Name     string            `json:"name"`
	Samplers []json.RawMessage `json:"samplers"`
	Channels []json.RawMessage `json:"channels"`

	patch *patch
	first float32 // the time of its first key
	still int     // the accessor with that time alone, -1 before it is needed
}

func (a *newAnimation) add(node int, path gltf.TRSProperty, input, output int, interpolation gltf.Interpolation) {
	a.Channels = append(a.Channels, encode(&gltf.AnimationChannel{
		Sampler: len(a.Samplers), Target: gltf.AnimationChannelTarget{Node: &node, Path: path},
	}))
	a.Samplers = append(a.Samplers, encode(&gltf.AnimationSampler{
		Input: input, Output: output, Interpolation: interpolation,
	}))
}

// hold keeps a node, for the whole animation, in a transform other than its own. Of
// a matrix it keeps the translation, rotation and scale.
func (a *newAnimation) hold(node int, own, to transform) {
	if own.translation != to.translation {
		a.holdAt(node, gltf.TRSTranslation, to.translation[:])
	}
	if q := to.rotation; own.rotation != q {
		a.holdAt(node, gltf.TRSRotation, []float64{q.Imag, q.Jmag, q.Kmag, q.Real})
	}
	if own.scale != to.scale {
		a.holdAt(node, gltf.TRSScale, to.scale[:])
	}
}

func (a *newAnimation) holdAt(node int, path gltf.TRSProperty, value []float64) {
	if a.still < 0 {
		time := []float64{float64(a.first)}
		a.still = a.patch.addAccessor(gltf.Accessor{
			ComponentType: gltf.ComponentFloat, Type: gltf.AccessorScalar, Count: 1, Min: time, Max: time,
		}, gltf.TargetNone, floatBytes(time))
	}
	kind := gltf.AccessorVec3
	if len(value) == 4 {
		kind = gltf.AccessorVec4
	}
	output := a.patch.addAccessor(gltf.Accessor{
		ComponentType: gltf.ComponentFloat, Type: kind, Count: 1,
	}, gltf.TargetNone, floatBytes(value))
	a.add(node, path, a.still, output, gltf.InterpolationStep)
}

// floatBytes are numbers as a buffer holds them.
func floatBytes(numbers []float64) (out []byte) {
	for _, x := range numbers {
		out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(x)))
	}
	return out
}
