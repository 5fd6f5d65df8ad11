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

// Rotations beyond the last whole vector go along with some that were done
// already: that they are done twice changes nothing. Where there are too few for a
// vector the plain passes take them.

func (s *Swing[F]) fastTwists(t *turns[F], v *lanes[F], first, n int) (odd uint64, done int) {
	vector := perVector[F]()
	whole := n &^ (vector - 1)
	if v.order == apart || whole == 0 {
		return 0, 0
	}
	odd = s.vectorTwists(t, v, first, 0, whole)
	if whole < n {
		odd |= s.vectorTwists(t, v, first, n-vector, vector) << (n - vector)
	}
	return odd, n
}

// vectorTwists measures n rotations from the start of the tile's on.
func (s *Swing[F]) vectorTwists(t *turns[F], v *lanes[F], first, start, n int) (odd uint64) {
	field, out, in := bytes(s), bytes(&t.half[start]), bytes(v)
	offset := uintptr(first+start) * v.step
	coefficients, kind := bytes(unsafe.SliceData(s.table.Coef)), uint8(s.fieldKind())
	nx, ny, row := s.table.NX, s.table.NY, uint32(s.table.Stride())
	if isSingle[F]() {
		return twists32(field, out, in, offset, uintptr(n), kind, coefficients, float32(nx), float32(ny), row)
	}
	return twists64(field, out, in, offset, uintptr(n), kind, coefficients, float64(nx), float64(ny), row)
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

// fastRotate is rotate, or reports that it could not. Where the law has tip shares, own
// is a tile's.
func (l *Law[F]) fastRotate(own *turns[F], out *lanes[F], segment uintptr, first, n int) bool {
	vector := perVector[F]()
	whole := n &^ (vector - 1)
	if out.order == apart || whole == 0 {
		return false
	}
	l.vectorRotate(own, out, segment, first, 0, whole)
	if whole < n {
		l.vectorRotate(own, out, segment, first, n-vector, vector)
	}
	return true
}

// vectorRotate writes n rotations from the start of the tile's on.
func (l *Law[F]) vectorRotate(own *turns[F], out *lanes[F], segment uintptr, first, start, n int) {
	offset := uintptr(first+start) * out.step
	from, axis, shares := bytes(&own.half[start]), bytes(&l.axis), bytes(unsafe.SliceData(l.segments))
	if isSingle[F]() {
		rotate32(bytes(out), offset, segment, uintptr(n), from, axis, shares, uintptr(len(l.segments)))
	} else {
		rotate64(bytes(out), offset, segment, uintptr(n), from, axis, shares, uintptr(len(l.segments)))
	}
}

// fastTurns is Aim.turns of the first done rotations of a tile.
func (a *Aim[F]) fastTurns(t *aims[F], joints, targets *lanes[F], first, n int) (odd uint64, done int) {
	vector := perVector[F]()
	whole := n &^ (vector - 1)
	if joints.order == apart || targets.order == apart || whole == 0 {
		return 0, 0
	}
	odd = a.vectorTurns(t, joints, targets, first, 0, whole)
	if whole < n {
		odd |= a.vectorTurns(t, joints, targets, first, n-vector, vector) << (n - vector)
	}
	return odd, n
}

// vectorTurns aims n rotations from the start of the tile's on.
func (a *Aim[F]) vectorTurns(t *aims[F], joints, targets *lanes[F], first, start, n int) (odd uint64) {
	aim, out := bytes(a), bytes(&t.w[start])
	from, toward := uintptr(first+start)*joints.step, uintptr(first+start)*targets.step
	if isSingle[F]() {
		return turns32(aim, out, bytes(joints), from, bytes(targets), toward, uintptr(n))
	}
	return turns64(aim, out, bytes(joints), from, bytes(targets), toward, uintptr(n))
}

// fastFinish is aims.finish, or reports that it could not.
func (t *aims[F]) fastFinish(dst *lanes[F], first, n int) bool {
	vector := perVector[F]()
	whole := n &^ (vector - 1)
	if dst.order == apart || whole == 0 {
		return false
	}
	t.vectorFinish(dst, first, 0, whole)
	if whole < n {
		t.vectorFinish(dst, first, n-vector, vector)
	}
	return true
}

// vectorFinish finishes n rotations from the start of the tile's on.
func (t *aims[F]) vectorFinish(dst *lanes[F], first, start, n int) {
	from, offset := bytes(&t.w[start]), uintptr(first+start)*dst.step
	if isSingle[F]() {
		finish32(from, bytes(dst), offset, uintptr(n))
	} else {
		finish64(from, bytes(dst), offset, uintptr(n))
	}
}

func bytes[T any](p *T) *byte { return (*byte)(unsafe.Pointer(p)) }
