package asset

import (
	"encoding/binary"
	"fmt"
	"math"
	"sync"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/qmuntal/gltf"
)

// Accessors are decoded here and not by modeler.ReadAccessor: it allocates what
// an accessor's count asks for before it looks at the bytes, panics on offsets
// out of range and on single bytes that lie apart, and does not scale normalised
// integers. Where it reads, a test has the two agree.

// Most bytes of decoded accessors for each byte of input, and beyond that: a
// file may make much of little (accessors without data, or many over the same
// data), and this bounds it. The densest honest case, single bytes decoded to
// float64, takes 8 for one.
const (
	decodedPerByte = 64
	decodedBeyond  = 16 << 20
)

// floats decodes an accessor with the given number of components: the numbers
// one after another, count*components of them, each finite: NaN is read as 0 in
// skin weights and refused elsewhere. Normalised integers
// are scaled to 0..1 or -1..1 (glTF 2.0, section 3.11, equations below table
// 12). The slice is shared by all callers: it must not be written to.
func (f *File) floats(accessor, components int) ([]float64, error) {
	r, err := f.claim(accessor, components)
	if err != nil {
		return nil, err
	}
	return f.read(r)
}

// reading is an accessor that is read once, however many ask for it at a time.
type reading struct {
	accessor, components int
	once                 sync.Once
	out                  []float64
	err                  error
}

// claim returns the reading of an accessor. The first claim counts its bytes.
func (f *File) claim(accessor, components int) (*reading, error) {
	f.decoded.Lock()
	defer f.decoded.Unlock()
	a := f.Doc.Accessors[accessor]
	if n := a.Type.Components(); n != components || isMatrix(a.Type) != (components == 16) {
		return nil, fmt.Errorf("accessor %d is of type %v, expected %s", accessor, a.Type, typeName(components))
	}
	if r, ok := f.decoded.floats[accessor]; ok {
		return r, nil
	}
	if err := f.afford(accessor, 8*components); err != nil {
		return nil, err
	}
	if f.decoded.floats == nil {
		f.decoded.floats = map[int]*reading{}
	}
	r := &reading{accessor: accessor, components: components}
	f.decoded.floats[accessor] = r
	return r, nil
}

// read decodes a claimed accessor, or waits for the one who does. One that cannot
// be decoded holds no memory, so its bytes are given back.
func (f *File) read(r *reading) ([]float64, error) {
	r.once.Do(func() {
		r.out, r.err = f.numbers(r.accessor, r.components)
		if r.err != nil {
			f.decoded.Lock()
			defer f.decoded.Unlock()
			f.decoded.bytes -= 8 * int64(r.components) * int64(f.Doc.Accessors[r.accessor].Count)
		}
	})
	return r.out, r.err
}

// numbers decodes an accessor.
func (f *File) numbers(accessor, components int) ([]float64, error) {
	a := f.Doc.Accessors[accessor]
	out := make([]float64, a.Count*components)
	if a.BufferView != nil {
		data, stride := f.bytes(*a.BufferView, a.ByteOffset, elementSize(a))
		decode(out, data, stride, components, a.ComponentType, a.Normalized)
	}
	if a.Sparse != nil {
		values := make([]float64, a.Sparse.Count*components)
		data, stride := f.bytes(a.Sparse.Values.BufferView, a.Sparse.Values.ByteOffset, elementSize(a))
		decode(values, data, stride, components, a.ComponentType, a.Normalized)
		for i, at := range f.sparseIndices(a.Sparse) {
			copy(out[at*components:(at+1)*components], values[i*components:])
		}
	}
	for i, x := range out {
		switch {
		case x-x == 0: // neither NaN nor Inf
		case math.IsNaN(x) && f.holdsWeights[accessor]:
			out[i] = 0
		default:
			return nil, fmt.Errorf("accessor %d: element %d holds %g, expected finite numbers", accessor, i/components, x)
		}
	}
	return out, nil
}

// joints decodes a JOINTS_n accessor. The slice is shared by all callers: it
// must not be written to.
func (f *File) joints(accessor int) ([][4]uint16, error) {
	a := f.Doc.Accessors[accessor]
	if a.ComponentType != gltf.ComponentUbyte && a.ComponentType != gltf.ComponentUshort {
		return nil, fmt.Errorf("accessor %d holds %v, expected UNSIGNED_BYTE or UNSIGNED_SHORT", accessor, a.ComponentType)
	}
	if a.Normalized {
		return nil, fmt.Errorf("accessor %d is normalized, expected plain joint indices", accessor)
	}
	numbers, err := f.floats(accessor, 4)
	if err != nil {
		return nil, err
	}
	f.decoded.Lock()
	defer f.decoded.Unlock()
	if out, ok := f.decoded.joints[accessor]; ok {
		return out, nil
	}
	out := make([][4]uint16, a.Count)
	for i := range out {
		for k := range 4 {
			out[i][k] = uint16(numbers[4*i+k])
		}
	}
	if f.decoded.joints == nil {
		f.decoded.joints = map[int][][4]uint16{}
	}
	f.decoded.joints[accessor] = out
	return out, nil
}

// matrices decodes a MAT4 accessor of affine matrices. Their fourth row has to
// be 0 0 0 1 (glTF 2.0, section 3.7.3.1); a little beside that, as some writers
// leave it, is set right.
func (f *File) matrices(accessor int) ([]mgl64.Mat4, error) {
	a := f.Doc.Accessors[accessor]
	if a.ComponentType != gltf.ComponentFloat {
		return nil, fmt.Errorf("accessor %d holds %v, expected FLOAT", accessor, a.ComponentType)
	}
	numbers, err := f.floats(accessor, 16)
	if err != nil {
		return nil, err
	}
	out := make([]mgl64.Mat4, a.Count)
	for i := range out {
		copy(out[i][:], numbers[16*i:])
		if !setAffine(&out[i]) {
			m := &out[i]
			return nil, fmt.Errorf("accessor %d: matrix %d has the fourth row %g %g %g %g, expected 0 0 0 1", accessor, i, m[3], m[7], m[11], m[15])
		}
	}
	return out, nil
}

// affineTolerance is how far a fourth row may lie beside 0 0 0 1 and still be
// taken for it: rounding of float32 matrices that went through an inversion.
const affineTolerance = 1e-3

// setAffine sets the fourth row to 0 0 0 1; false where it is not near that.
func setAffine(m *mgl64.Mat4) bool {
	for column, want := range [4]float64{0, 0, 0, 1} {
		if !(math.Abs(m[4*column+3]-want) <= affineTolerance) {
			return false
		}
		m[4*column+3] = want
	}
	return true
}

// afford counts the bytes that decoding an accessor takes against what a file
// of this size may ask for.
func (f *File) afford(accessor, elementBytes int) error {
	most := decodedPerByte*int64(f.size) + decodedBeyond
	count := int64(f.Doc.Accessors[accessor].Count)
	if count > (most-f.decoded.bytes)/int64(elementBytes) {
		return fmt.Errorf("accessor %d: its %d elements take more memory than a file of %d bytes can be worth", accessor, count, f.size)
	}
	f.decoded.bytes += count * int64(elementBytes)
	return nil
}

// bytes is what an accessor of elements of the given size sees, and the step
// from one element to the next.
func (f *File) bytes(view, offset, size int) (data []byte, stride int) {
	v := f.Doc.BufferViews[view]
	stride = v.ByteStride
	if stride == 0 {
		stride = size
	}
	return f.Doc.Buffers[v.Buffer].Data[v.ByteOffset+offset : v.ByteOffset+v.ByteLength], stride
}

// decode fills dst with the elements that lie stride bytes apart.
func decode(dst []float64, data []byte, stride, components int, kind gltf.ComponentType, normalized bool) {
	size := componentSize(kind)
	one := greatest(kind)
	if kind == gltf.ComponentFloat && stride == components*size {
		for i := range dst {
			dst[i] = float64(math.Float32frombits(binary.LittleEndian.Uint32(data[4*i:])))
		}
		return
	}
	for i := 0; i*components < len(dst); i++ {
		element := data[i*stride:]
		for k := range components {
			at := element[k*size:]
			var x float64
			switch kind {
			case gltf.ComponentFloat:
				dst[i*components+k] = float64(math.Float32frombits(binary.LittleEndian.Uint32(at)))
				continue
			case gltf.ComponentByte:
				x = float64(int8(at[0]))
			case gltf.ComponentUbyte:
				x = float64(at[0])
			case gltf.ComponentShort:
				x = float64(int16(binary.LittleEndian.Uint16(at)))
			case gltf.ComponentUshort:
				x = float64(binary.LittleEndian.Uint16(at))
			case gltf.ComponentUint:
				x = float64(binary.LittleEndian.Uint32(at))
			}
			if normalized {
				x = max(x/one, -1)
			}
			dst[i*components+k] = x
		}
	}
}

// sparseIndices lists the elements that a sparse accessor sets.
func (f *File) sparseIndices(s *gltf.Sparse) []int {
	kind := s.Indices.ComponentType
	data, stride := f.bytes(s.Indices.BufferView, s.Indices.ByteOffset, componentSize(kind))
	numbers := make([]float64, s.Count)
	decode(numbers, data, stride, 1, kind, false)
	out := make([]int, s.Count)
	for i, x := range numbers {
		out[i] = int(x)
	}
	return out
}

func componentSize(kind gltf.ComponentType) int {
	switch kind {
	case gltf.ComponentByte, gltf.ComponentUbyte:
		return 1
	case gltf.ComponentShort, gltf.ComponentUshort:
		return 2
	}
	return 4
}

// greatest is the stored value that a normalised component takes for 1.
func greatest(kind gltf.ComponentType) float64 {
	switch kind {
	case gltf.ComponentByte:
		return math.MaxInt8
	case gltf.ComponentUbyte:
		return math.MaxUint8
	case gltf.ComponentShort:
		return math.MaxInt16
	case gltf.ComponentUshort:
		return math.MaxUint16
	}
	return 1
}

// elementSize is how many bytes one element of an accessor takes, with the
// padding that columns of small matrices have (glTF 2.0, section 3.6.2.4).
// gltf.SizeOfElement pads vectors as well, which the specification does not.
func elementSize(a *gltf.Accessor) int {
	size := componentSize(a.ComponentType)
	rows := map[gltf.AccessorType]int{gltf.AccessorMat2: 2, gltf.AccessorMat3: 3, gltf.AccessorMat4: 4}[a.Type]
	if rows == 0 {
		return a.Type.Components() * size
	}
	column := (rows*size + 3) / 4 * 4
	return rows * column
}

func isMatrix(t gltf.AccessorType) bool {
	return t == gltf.AccessorMat2 || t == gltf.AccessorMat3 || t == gltf.AccessorMat4
}

func typeName(components int) string {
	switch components {
	case 1:
		return "SCALAR"
	case 16:
		return "MAT4"
	}
	return fmt.Sprintf("VEC%d", components)
}
