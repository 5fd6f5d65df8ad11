package player

import (
	"encoding/binary"
	"fmt"
	"math"
)

type accessor struct {
	BufferView    *int    `json:"bufferView"`
	ByteOffset    int     `json:"byteOffset"`
	ComponentType int     `json:"componentType"`
	Normalized    bool    `json:"normalized"`
	Count         int     `json:"count"`
	Type          string  `json:"type"`
	Sparse        *sparse `json:"sparse"`
}

// sparse replaces some elements of an accessor (specification section 3.6.2.3).
type sparse struct {
	Count   int `json:"count"`
	Indices struct {
		BufferView    int `json:"bufferView"`
		ByteOffset    int `json:"byteOffset"`
		ComponentType int `json:"componentType"`
	} `json:"indices"`
	Values struct {
		BufferView int `json:"bufferView"`
		ByteOffset int `json:"byteOffset"`
	} `json:"values"`
}

type bufferView struct {
	Buffer     int  `json:"buffer"`
	ByteOffset int  `json:"byteOffset"`
	ByteLength int  `json:"byteLength"`
	ByteStride *int `json:"byteStride"`
}

var components = map[string]int{"SCALAR": 1, "VEC2": 2, "VEC3": 3, "VEC4": 4, "MAT4": 16}

// component describes one componentType: its size, how to read it as it is and
// what a normalised value is divided by (specification section 3.6.2.2).
type component struct {
	size int
	read func([]byte) float64
	full float64
}

var componentTypes = map[int]component{
	5120: {1, func(b []byte) float64 { return float64(int8(b[0])) }, 127},
	5121: {1, func(b []byte) float64 { return float64(b[0]) }, 255},
	5122: {2, func(b []byte) float64 { return float64(int16(binary.LittleEndian.Uint16(b))) }, 32767},
	5123: {2, func(b []byte) float64 { return float64(binary.LittleEndian.Uint16(b)) }, 65535},
	5125: {4, func(b []byte) float64 { return float64(binary.LittleEndian.Uint32(b)) }, 4294967295},
	5126: {4, func(b []byte) float64 { return float64(math.Float32frombits(binary.LittleEndian.Uint32(b))) }, 1},
}

// element reads n components at the start of b.
func (c component) element(b []byte, n int, normalised bool) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = c.read(b[i*c.size:])
		if normalised {
			// Both signed extremes mean -1: -128 and -127 in a byte.
			out[i] = math.Max(out[i]/c.full, -1)
		}
	}
	return out
}

// rows reads a whole accessor, one row per element.
func (d *document) rows(index int) ([][]float64, error) {
	if index < 0 || index >= len(d.Accessors) {
		return nil, fmt.Errorf("accessor %d of %d", index, len(d.Accessors))
	}
	a := d.Accessors[index]
	n, known := components[a.Type]
	c, typed := componentTypes[a.ComponentType]
	if !known || !typed {
		return nil, fmt.Errorf("accessor %d: type %q of %d", index, a.Type, a.ComponentType)
	}
	rows := make([][]float64, a.Count)
	if a.BufferView == nil {
		for i := range rows {
			rows[i] = make([]float64, n)
		}
	} else {
		at, err := d.strided(*a.BufferView, a.ByteOffset, a.Count, c.size*n)
		if err != nil {
			return nil, fmt.Errorf("accessor %d: %w", index, err)
		}
		for i := range rows {
			rows[i] = c.element(at(i), n, a.Normalized)
		}
	}
	if s := a.Sparse; s != nil {
		k, typed := componentTypes[s.Indices.ComponentType]
		if !typed {
			return nil, fmt.Errorf("accessor %d: sparse index of type %d", index, s.Indices.ComponentType)
		}
		where, err := d.strided(s.Indices.BufferView, s.Indices.ByteOffset, s.Count, k.size)
		if err != nil {
			return nil, fmt.Errorf("accessor %d: sparse indices: %w", index, err)
		}
		what, err := d.strided(s.Values.BufferView, s.Values.ByteOffset, s.Count, c.size*n)
		if err != nil {
			return nil, fmt.Errorf("accessor %d: sparse values: %w", index, err)
		}
		for i := range s.Count {
			row := int(k.read(where(i)))
			if row >= a.Count {
				return nil, fmt.Errorf("accessor %d: sparse index %d of %d", index, row, a.Count)
			}
			rows[row] = c.element(what(i), n, a.Normalized)
		}
	}
	return rows, nil
}

// strided returns a function that gives the bytes of element i.
func (d *document) strided(view, offset, count, size int) (func(int) []byte, error) {
	if view < 0 || view >= len(d.BufferViews) {
		return nil, fmt.Errorf("buffer view %d of %d", view, len(d.BufferViews))
	}
	v := d.BufferViews[view]
	if v.Buffer < 0 || v.Buffer >= len(d.bytes) || v.ByteOffset < 0 || v.ByteLength < 0 ||
		v.ByteOffset+v.ByteLength > len(d.bytes[v.Buffer]) {
		return nil, fmt.Errorf("buffer view %d lies outside its buffer", view)
	}
	stride := size
	if v.ByteStride != nil {
		stride = *v.ByteStride
	}
	if count < 0 || offset < 0 || stride < size || count > 0 && offset+(count-1)*stride+size > v.ByteLength {
		return nil, fmt.Errorf("%d elements of %d bytes reach outside buffer view %d", count, size, view)
	}
	b := d.bytes[v.Buffer][v.ByteOffset+offset : v.ByteOffset+v.ByteLength]
	return func(i int) []byte { return b[i*stride : i*stride+size] }, nil
}
