//go:build !purego

package kernel

import "unsafe"

//go:generate go run -C gen . -out ../fast_amd64.s -stubs ../stubs_amd64.go -pkg kernel

// fast tells the passes to let the assembly do what it can. It does the same
// operations in the same order, so it has the same bits.
var fast = has

// has is asked once: the question takes a hypervisor tens of microseconds.
var has = hasAVX2()

// HasFast tells whether this build has assembly that the processor can run.
func HasFast() bool { return has }

// UseFast switches the assembly off, or on where there is some, for tests and
// benchmarks. It must not run beside other work of this package.
func UseFast(on bool) (was bool) {
	was = fast
	fast = on && has
	return was
}

// perVector is how many numbers the assembly handles at a time.
func perVector[F Real]() int { return 32 / int(unsafe.Sizeof(F(0))) }

// vectorOrder is the order of a view that the assembly can handle, or apart.
func (v *View[F]) vectorOrder() order {
	switch o := v.order(); o {
	case wxyz, xyzw:
		if v.Stride >= 4 { // rotations that overlap are written one after the other
			return o
		}
	case planes:
		return o
	}
	return apart
}

// Rotations beyond the last whole vector go along with some that were done
// already: that they are done twice changes nothing. Where there are too few for a
// vector the plain passes take them.

func (s *Swing[F]) fastTwists(t *turns[F], v *View[F], first, n int) (odd uint64, done int) {
	o, lanes := v.vectorOrder(), perVector[F]()
	whole := n &^ (lanes - 1)
	if o == apart || whole == 0 {
		return 0, 0
	}
	odd = s.vectorTwists(t, v, o, first, 0, whole)
	if whole < n {
		odd |= s.vectorTwists(t, v, o, first, n-lanes, lanes) << (n - lanes)
	}
	return odd, n
}

// vectorTwists measures n rotations from the start of the tile's on.
func (s *Swing[F]) vectorTwists(t *turns[F], v *View[F], o order, first, start, n int) (odd uint64) {
	k := (first + start) * v.Stride
	w, x, y, z := spot(v.W, k), spot(v.X, k), spot(v.Y, k), spot(v.Z, k)
	step := uintptr(v.Stride) * unsafe.Sizeof(F(0))
	field, out := bytes(s), bytes(&t.half[start])
	coefficients, kind := bytes(unsafe.SliceData(s.table.Coef)), s.fieldKind()
	nx, ny, row := s.table.NX, s.table.NY, uint32(s.table.Stride())
	if isSingle[F]() {
		return twists32(field, out, w, x, y, z, step, uintptr(n), uint8(o), uint8(kind), coefficients, float32(nx), float32(ny), row)
	}
	return twists64(field, out, w, x, y, z, step, uintptr(n), uint8(o), uint8(kind), coefficients, float64(nx), float64(ny), row)
}

// fieldKind tells the fields apart that the assembly has loops for.
type fieldKind uint8

const (
	centredKind   fieldKind = iota
	plainKind               // products with the arc to the centre leave w as it is
	correctedKind           // by a table
)

func (s *Swing[F]) fieldKind() fieldKind {
	switch {
	case s.isCorrected():
		return correctedKind
	case s.cos == 1 && s.sin == [3]F{}:
		return plainKind
	}
	return centredKind
}

// fastRotate is rotate, or reports that it could not.
func (l *Law[F]) fastRotate(t *tile[F], dst *View[F], at, n int) bool {
	o, lanes := dst.vectorOrder(), perVector[F]()
	whole := n &^ (lanes - 1)
	if o == apart || whole == 0 {
		return false
	}
	l.vectorRotate(t, dst, o, at, 0, whole)
	if whole < n {
		l.vectorRotate(t, dst, o, at, n-lanes, lanes)
	}
	return true
}

// vectorRotate writes n rotations from the start of the tile's on.
func (l *Law[F]) vectorRotate(t *tile[F], dst *View[F], o order, at, start, n int) {
	size := unsafe.Sizeof(F(0))
	k := at + start*dst.Stride
	w, x, y, z := spot(dst.W, k), spot(dst.X, k), spot(dst.Y, k), spot(dst.Z, k)
	step, segment := uintptr(dst.Stride)*size, uintptr(dst.Segment)*size
	from, axis, shares := bytes(&t.own.half[start]), bytes(&l.axis), bytes(unsafe.SliceData(l.segments))
	if isSingle[F]() {
		rotate32(w, x, y, z, step, segment, uintptr(n), uint8(o), from, axis, shares, uintptr(len(l.segments)))
	} else {
		rotate64(w, x, y, z, step, segment, uintptr(n), uint8(o), from, axis, shares, uintptr(len(l.segments)))
	}
}

// fastTurns is Aim.turns of the first done rotations of a tile.
func (a *Aim[F]) fastTurns(t *aims[F], joints, targets *View[F], first, n int) (odd uint64, done int) {
	from, toward, lanes := joints.vectorOrder(), targets.directionOrder(), perVector[F]()
	whole := n &^ (lanes - 1)
	if from == apart || toward == apart || whole == 0 {
		return 0, 0
	}
	odd = a.vectorTurns(t, joints, targets, from, toward, first, 0, whole)
	if whole < n {
		odd |= a.vectorTurns(t, joints, targets, from, toward, first, n-lanes, lanes) << (n - lanes)
	}
	return odd, n
}

// vectorTurns aims n rotations from the start of the tile's on.
func (a *Aim[F]) vectorTurns(t *aims[F], joints, targets *View[F], from, toward order, first, start, n int) (odd uint64) {
	size := unsafe.Sizeof(F(0))
	k := (first + start) * joints.Stride
	w, x, y, z, step := spot(joints.W, k), spot(joints.X, k), spot(joints.Y, k), spot(joints.Z, k), uintptr(joints.Stride)*size
	k = (first + start) * targets.Stride
	dx, dy, dz, dstep := spot(targets.X, k), spot(targets.Y, k), spot(targets.Z, k), uintptr(targets.Stride)*size
	aim, out := bytes(a), bytes(&t.w[start])
	if isSingle[F]() {
		return turns32(aim, out, w, x, y, z, step, uint8(from), dx, dy, dz, dstep, uint8(toward), uintptr(n))
	}
	return turns64(aim, out, w, x, y, z, step, uint8(from), dx, dy, dz, dstep, uint8(toward), uintptr(n))
}

// fastFinish is aims.finish, or reports that it could not.
func (t *aims[F]) fastFinish(dst *View[F], first, n int) bool {
	o, lanes := dst.vectorOrder(), perVector[F]()
	whole := n &^ (lanes - 1)
	if o == apart || whole == 0 {
		return false
	}
	t.vectorFinish(dst, o, first, 0, whole)
	if whole < n {
		t.vectorFinish(dst, o, first, n-lanes, lanes)
	}
	return true
}

// vectorFinish finishes n rotations from the start of the tile's on.
func (t *aims[F]) vectorFinish(dst *View[F], o order, first, start, n int) {
	k := (first + start) * dst.Stride
	w, x, y, z, step := spot(dst.W, k), spot(dst.X, k), spot(dst.Y, k), spot(dst.Z, k), uintptr(dst.Stride)*unsafe.Sizeof(F(0))
	from := bytes(&t.w[start])
	if isSingle[F]() {
		finish32(from, w, x, y, z, step, uint8(o), uintptr(n))
	} else {
		finish64(from, w, x, y, z, step, uint8(o), uintptr(n))
	}
}

// directionOrder is planes, xyz where x, y and z are side by side, or apart.
func (v *View[F]) directionOrder() order {
	size := unsafe.Sizeof(F(0))
	x, y, z := address(v.X), address(v.Y), address(v.Z)
	switch {
	case v.Stride == 1:
		return planes
	case v.Stride >= 3 && y-x == size && z-y == size:
		return xyz
	}
	return apart
}

// spot is the address of an element; the views' bounds have been seen to.
func spot[F Real](s []F, k int) *byte {
	return (*byte)(unsafe.Add(unsafe.Pointer(unsafe.SliceData(s)), uintptr(k)*unsafe.Sizeof(F(0))))
}

func bytes[T any](p *T) *byte { return (*byte)(unsafe.Pointer(p)) }
