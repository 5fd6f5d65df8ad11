package asset

import (
	"slices"

	"github.com/pronate/pronate/rest"
	"github.com/qmuntal/gltf"
	"gonum.org/v1/gonum/num/quat"
)

// track is one animation channel, decoded: what glTF 2.0 calls a sampler, with
// the property it drives.
type track struct {
	times         []float64 // seconds, strictly increasing
	values        []float64 // width numbers a key; in-tangent, value, out-tangent for cubic
	width         int       // 4 for a rotation, 3 for a translation or scale
	interpolation gltf.Interpolation

	node, input, output int // what it moves, and the accessors it came from
	path                gltf.TRSProperty
}

// find returns the key at or before t, clamped to the ends, and how far t is
// on the way to the next key (0 at and beyond the ends).
func (k *track) find(t float64) (key int, fraction, span float64) {
	last := len(k.times) - 1
	i, exact := slices.BinarySearch(k.times, t)
	switch {
	case exact:
		return i, 0, 0
	case i == 0:
		return 0, 0, 0
	case i > last:
		return last, 0, 0
	}
	span = k.times[i] - k.times[i-1]
	return i - 1, (t - k.times[i-1]) / span, span
}

// value is the stored value of a key.
func (k *track) value(key int) []float64 {
	if k.interpolation == gltf.InterpolationCubicSpline {
		return k.values[(3*key+1)*k.width : (3*key+2)*k.width]
	}
	return k.values[key*k.width : (key+1)*k.width]
}

// vector evaluates a translation or scale (glTF 2.0, appendix C).
func (k *track) vector(t float64) (v [3]float64) {
	k.blend(v[:], t)
	return v
}

// rotation evaluates a rotation, at unit length (glTF 2.0, appendix C).
func (k *track) rotation(t float64) quat.Number {
	key, fraction, _ := k.find(t)
	if k.interpolation == gltf.InterpolationLinear && fraction > 0 {
		return slerp(quaternion(k.value(key)), quaternion(k.value(key+1)), fraction)
	}
	var v [4]float64
	k.blend(v[:], t)
	return quaternion(v[:])
}

// blend interpolates component by component.
func (k *track) blend(dst []float64, t float64) {
	key, s, span := k.find(t)
	if s == 0 || k.interpolation == gltf.InterpolationStep {
		copy(dst, k.value(key))
		return
	}
	a, b := k.value(key), k.value(key+1)
	if k.interpolation == gltf.InterpolationLinear {
		for i := range dst {
			dst[i] = (1-s)*a[i] + s*b[i]
		}
		return
	}
	out := k.values[(3*key+2)*k.width:]
	in := k.values[(3*key+3)*k.width:]
	s2, s3 := s*s, s*s*s
	for i := range dst {
		dst[i] = (2*s3-3*s2+1)*a[i] + span*(s3-2*s2+s)*out[i] + (3*s2-2*s3)*b[i] + span*(s3-s2)*in[i]
	}
}

// quaternion reads x, y, z, w as glTF stores them and brings it to length 1;
// a zero one, which a cubic spline may pass through, is the identity.
func quaternion(v []float64) quat.Number {
	return unit(quat.Number{Real: v[3], Imag: v[0], Jmag: v[1], Kmag: v[2]})
}

func unit(q quat.Number) quat.Number { return rest.Frame{Rotation: q}.Unit() }
