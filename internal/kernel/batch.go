package kernel

import (
	"math/bits"
	"unsafe"
)

// Outcome counts the rotations of a batch that have no answer of their own.
type Outcome struct {
	Undefined int // a twist was undefined and taken as none
	Bad       int // NaN or Inf came in, and NaN went out
}

// Batch solves n rotations; dst has room for each one's segments. tips is read
// only where the law has tip shares. The caller has seen to it that the views
// hold n.
func (l *Law[F]) Batch(dst, joints, tips *View[F], n int) (o Outcome) {
	l.mustHold(dst, joints, tips, n)
	var room onLine[tile[F]]
	t := room.value()
	own, far := l.lanes(joints, tips)
	out, segment := dst.lanes(), uintptr(dst.Segment)*unsafe.Sizeof(F(0))
	for first := 0; first < n; first += Tile {
		count := min(Tile, n-first)
		undefined, bad := l.split(t, &own, &far, first, count)
		l.rotate(t, &out, segment, first, count)
		o.Undefined += bits.OnesCount64(undefined)
		o.Bad += bits.OnesCount64(bad)
		for ; bad != 0; bad &= bad - 1 {
			at := (first + bits.TrailingZeros64(bad)) * dst.Stride
			for range l.segments {
				dst.W[at], dst.X[at], dst.Y[at], dst.Z[at] = nan[F](), nan[F](), nan[F](), nan[F]()
				at += dst.Segment
			}
		}
	}
	return o
}

// BatchAngles solves n rotations for their segments' angles, one rotation's after
// another's, as Angles does.
func (l *Law[F]) BatchAngles(dst []F, joints, tips *View[F], n int) (o Outcome) {
	l.mustHold(nil, joints, tips, n)
	var room onLine[tile[F]]
	t := room.value()
	own, far := l.lanes(joints, tips)
	for first := 0; first < n; first += Tile {
		count := min(Tile, n-first)
		undefined, bad := l.split(t, &own, &far, first, count)
		for i := range count {
			angles := dst[(first+i)*len(l.segments):][:len(l.segments)]
			for j := range angles {
				angles[j] = l.segments[j].angle(t.own.half[i], t.far.half[i])
				if bad>>i&1 != 0 {
					angles[j] = nan[F]()
				}
			}
		}
		o.Undefined += bits.OnesCount64(undefined)
		o.Bad += bits.OnesCount64(bad)
	}
	return o
}

func (l *Law[F]) mustHold(dst, joints, tips *View[F], n int) {
	if dst != nil {
		dst.mustHold(n, len(l.segments))
	}
	joints.mustHold(n, 1)
	if l.hasTip {
		tips.mustHold(n, 1)
	}
}

// lanes are those of the joints and, where the law has tip shares, of the tips.
func (l *Law[F]) lanes(joints, tips *View[F]) (own, far lanes[F]) {
	if l.hasTip {
		far = tips.lanes()
	}
	return joints.lanes(), far
}

// split measures a tile's twists.
func (l *Law[F]) split(t *tile[F], own, far *lanes[F], first, n int) (undefined, bad uint64) {
	undefined, bad = l.swing.twists(&t.own, own, first, n)
	if l.hasTip {
		u, b := l.plain.twists(&t.far, far, first, n)
		undefined, bad = undefined|u, bad|b
	}
	return undefined &^ bad, bad
}

// rotate writes the segments of n rotations, which are so many bytes from one another.
func (l *Law[F]) rotate(t *tile[F], out *lanes[F], segment uintptr, first, n int) {
	if fast && l.fastRotate(t, out, segment, first, n) {
		return
	}
	for i := range l.segments {
		l.plainRotate(t, &l.segments[i], out.from(uintptr(first)*out.step+uintptr(i)*segment), n)
	}
}

// plainRotate writes one segment of them.
func (l *Law[F]) plainRotate(t *tile[F], s *share[F], out lanes[F], n int) {
	sin, cos := &t.sin, &t.cos
	sign := F(1)
	switch s.kind {
	case still:
		for i := range n {
			out.store(i, 1, 0, 0, 0)
		}
		return
	case ownBack:
		sin, cos, sign = &t.own.sin, &t.own.cos, -1
	case tipAll:
		sin, cos = &t.far.sin, &t.far.cos
	default:
		half := t.sin[:n] // the sine comes to the same place
		s.halves(half, t.own.half[:n], t.far.half[:n])
		sincos(t.sin[:n], t.cos[:n], half)
	}
	a, b, c := sign*l.axis[0], sign*l.axis[1], sign*l.axis[2]
	for i := range n {
		sin := sin[i&(Tile-1)]
		out.store(i, cos[i&(Tile-1)], F(sin*a), F(sin*b), F(sin*c))
	}
}
