package kernel

import (
	"math/bits"
	"unsafe"

	"gonum.org/v1/gonum/num/quat"
)

// View says where n rotations lie, or n times as many as a limb has segments: a
// slice for each component and steps in elements. Component X of segment i of
// rotation j is X[j*Stride + i*Segment]. Planes have Stride 1; quaternions side
// by side share one array, each slice starting at its first component.
type View[F Real] struct {
	X, Y, Z, W []F
	Stride     int // from one rotation, or limb, to the next
	Segment    int // from one segment to the next
}

// Arrays sees quaternions as their components, in the order w, x, y, z in which
// gonum has them.
func Arrays(q []quat.Number) [][4]float64 {
	return unsafe.Slice((*[4]float64)(unsafe.Pointer(unsafe.SliceData(q))), len(q))
}

// Numbers is a view of quaternions side by side, with so many segments a limb.
func Numbers(q []quat.Number, segments int) View[float64] {
	if len(q) == 0 {
		return View[float64]{}
	}
	s := unsafe.Slice((*float64)(unsafe.Pointer(unsafe.SliceData(q))), 4*len(q))
	return View[float64]{W: s, X: s[1:], Y: s[2:], Z: s[3:], Stride: 4 * segments, Segment: 4}
}

// Holds reports whether there is room for n rotations of so many segments.
func (v *View[F]) Holds(n, segments int) bool {
	if n == 0 {
		return true
	}
	last := min(len(v.X), len(v.Y), len(v.Z)) - 1
	if v.W != nil {
		last = min(last, len(v.W)-1)
	}
	if last < 0 || v.Stride < 0 || v.Segment < 0 {
		return false
	}
	// In 128 bits, so that steps as large as can be do not overflow.
	high, low := bits.Mul64(uint64(n-1), uint64(v.Stride))
	higher, more := bits.Mul64(uint64(segments-1), uint64(v.Segment))
	sum, carry := bits.Add64(low, more, 0)
	return high|higher|carry == 0 && sum <= uint64(last)
}

// mustHold panics where a view is too short: what reads and writes it looks no more.
func (v *View[F]) mustHold(n, segments int) {
	if !v.Holds(n, segments) {
		panic("kernel: a view is shorter than its batch")
	}
}

// lanes is a view for the passes: it moves on by bytes. Bounds have been seen to by
// mustHold.
//
// The assembly reads these fields.
type lanes[F Real] struct {
	w, x, y, z unsafe.Pointer
	step       uintptr
	order      order
}

// rotations makes the lanes those of a view's rotations.
func (l *lanes[F]) rotations(v *View[F]) { l.set(v, v.order()) }

// directions makes them those of a view's directions, which have no w.
func (l *lanes[F]) directions(v *View[F]) { l.set(v, v.directionOrder()) }

// set stores number by number, where they are wanted: copied as a whole they would
// be read in wider pieces than they were written in, which stalls the processor.
func (l *lanes[F]) set(v *View[F], o order) {
	l.w, l.x = unsafe.Pointer(unsafe.SliceData(v.W)), unsafe.Pointer(unsafe.SliceData(v.X))
	l.y, l.z = unsafe.Pointer(unsafe.SliceData(v.Y)), unsafe.Pointer(unsafe.SliceData(v.Z))
	l.step, l.order = uintptr(v.Stride)*unsafe.Sizeof(F(0)), o
}

// from are the lanes so many bytes on.
func (l *lanes[F]) from(offset uintptr) lanes[F] {
	at := func(p unsafe.Pointer) unsafe.Pointer {
		if p == nil { // directions have no w
			return nil
		}
		return unsafe.Add(p, offset)
	}
	return lanes[F]{at(l.w), at(l.x), at(l.y), at(l.z), l.step, l.order}
}

func (l *lanes[F]) load(i int) (w, x, y, z F) {
	k := uintptr(i) * l.step
	return *(*F)(unsafe.Add(l.w, k)), *(*F)(unsafe.Add(l.x, k)), *(*F)(unsafe.Add(l.y, k)), *(*F)(unsafe.Add(l.z, k))
}

func (l *lanes[F]) direction(i int) (x, y, z F) {
	k := uintptr(i) * l.step
	return *(*F)(unsafe.Add(l.x, k)), *(*F)(unsafe.Add(l.y, k)), *(*F)(unsafe.Add(l.z, k))
}

func (l *lanes[F]) store(i int, w, x, y, z F) {
	k := uintptr(i) * l.step
	*(*F)(unsafe.Add(l.w, k)), *(*F)(unsafe.Add(l.x, k)), *(*F)(unsafe.Add(l.y, k)), *(*F)(unsafe.Add(l.z, k)) = w, x, y, z
}
