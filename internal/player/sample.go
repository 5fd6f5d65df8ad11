package player

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// track is one channel: a sampler aimed at a node's property.
type track struct {
	node          int
	path          string
	interpolation string
	times         []float64
	values        [][]float64 // one row per key; three for CUBICSPLINE: in-tangent, value, out-tangent
}

// newTrack checks the counts that the specification asks for (section 3.11).
func newTrack(node int, path, interpolation string, times, values [][]float64, width int) (track, error) {
	tr := track{node: node, path: path, interpolation: interpolation}
	if interpolation == "" {
		tr.interpolation = "LINEAR"
	}
	for i, row := range times {
		if i > 0 && row[0] <= tr.times[i-1] || row[0] < 0 {
			return tr, fmt.Errorf("key %d: time %v is out of order", i, row[0])
		}
		tr.times = append(tr.times, row[0])
	}
	if len(times) == 0 {
		return tr, errors.New("no keys")
	}
	// Morph weights come as one scalar each; here they become one row per key.
	for len(values) > 0 && width > len(values[0]) {
		if len(values)%width != 0 {
			return tr, fmt.Errorf("%d morph weights, expected a multiple of %d", len(values), width)
		}
		var wide [][]float64
		for i := 0; i < len(values); i += width {
			var row []float64
			for _, v := range values[i : i+width] {
				row = append(row, v...)
			}
			wide = append(wide, row)
		}
		values = wide
	}
	perKey := 1
	switch tr.interpolation {
	case "CUBICSPLINE":
		perKey = 3
	case "LINEAR", "STEP":
	default:
		return tr, fmt.Errorf("interpolation %q", interpolation)
	}
	if len(values) != perKey*len(times) || len(values[0]) != width {
		return tr, fmt.Errorf("%d values for %d keys", len(values), len(times))
	}
	tr.values = values
	if path == "rotation" && perKey == 1 {
		// Integers hold a unit quaternion only roughly; the interpolation below
		// needs one. A spline's values are summed first, with its tangents.
		for _, v := range values {
			normalise(v)
		}
	}
	return tr, nil
}

// at samples the track: specification appendix C. Outside the keys the nearest
// key holds.
func (tr track) at(t float64) []float64 {
	last := len(tr.times) - 1
	switch {
	case !(t > tr.times[0]):
		return tr.key(0)
	case t >= tr.times[last]:
		return tr.key(last)
	}
	k := sort.Search(len(tr.times), func(i int) bool { return tr.times[i] > t }) - 1
	length := tr.times[k+1] - tr.times[k]
	x := (t - tr.times[k]) / length
	switch {
	case tr.interpolation == "STEP":
		return tr.key(k)
	case tr.interpolation == "CUBICSPLINE":
		v := spline(tr.values[3*k+1], tr.values[3*k+2], tr.values[3*k+3], tr.values[3*k+4], length, x)
		if tr.path == "rotation" {
			normalise(v)
		}
		return v
	case tr.path == "rotation":
		return slerp(tr.values[k], tr.values[k+1], x)
	}
	v := make([]float64, len(tr.values[k]))
	for i := range v {
		v[i] = (1-x)*tr.values[k][i] + x*tr.values[k+1][i]
	}
	return v
}

// key is the value at key k; a rotation is a unit quaternion.
func (tr track) key(k int) []float64 {
	if tr.interpolation == "CUBICSPLINE" {
		k = 3*k + 1
	}
	v := append([]float64(nil), tr.values[k]...)
	if tr.path == "rotation" {
		normalise(v)
	}
	return v
}

// spline is appendix C.5: from value v with out-tangent b to value w with
// in-tangent a, over a span of the given length; x is 0 to 1 inside it.
func spline(v, b, a, w []float64, length, x float64) []float64 {
	out := make([]float64, len(v))
	for i := range out {
		out[i] = (2*x*x*x-3*x*x+1)*v[i] + length*(x*x*x-2*x*x+x)*b[i] +
			(-2*x*x*x+3*x*x)*w[i] + length*(x*x*x-x*x)*a[i]
	}
	return out
}

// slerp is appendix C.4, the short way round. The arc comes from atan2 of the
// difference and the sum, since acos is inaccurate near 1.
func slerp(v, w []float64, x float64) []float64 {
	dot := 0.0
	for i := range v {
		dot += v[i] * w[i]
	}
	sign := 1.0
	if dot < 0 {
		sign = -1
	}
	var difference, sum float64
	for i := range v {
		difference += (v[i] - sign*w[i]) * (v[i] - sign*w[i])
		sum += (v[i] + sign*w[i]) * (v[i] + sign*w[i])
	}
	arc := 2 * math.Atan2(math.Sqrt(difference), math.Sqrt(sum))
	from, to := 1-x, x
	// Below this arc sin(x arc)/sin(arc) equals x to the last bit.
	if arc > 1e-8 {
		from, to = math.Sin(arc*(1-x))/math.Sin(arc), math.Sin(arc*x)/math.Sin(arc)
	}
	out := make([]float64, len(v))
	for i := range out {
		out[i] = from*v[i] + sign*to*w[i]
	}
	return out
}

func normalise(v []float64) {
	norm := 0.0
	for _, x := range v {
		norm += x * x
	}
	if norm = math.Sqrt(norm); norm == 0 {
		return
	}
	for i := range v {
		v[i] /= norm
	}
}
