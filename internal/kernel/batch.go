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
func (l *Law[F]) Batch(dst, joints, tips *View[F], n int) Outcome {
	l.mustHold(dst, joints, tips, n)
	if n == 1 {
		return l.single(dst, joints, tips)
	}
	if l.hasTip {
		var room onLine[tile[F]]
		t := room.value()
		return l.batch(&t.own, &t.far, dst, joints, tips, n)
	}
	var room onLine[turns[F]] // half as much to clear, which small batches feel
	return l.batch(room.value(), nil, dst, joints, tips, n)
}

// single solves one rotation, for which passes do not pay.
func (l *Law[F]) single(dst, joints, tips *View[F]) (o Outcome) {
	var own, far Twist[F]
	var tip [4]F
	if l.hasTip {
		tip = [4]F{tips.W[0], tips.X[0], tips.Y[0], tips.Z[0]}
	}
	l.Split(&own, &far, &[4]F{joints.W[0], joints.X[0], joints.Y[0], joints.Z[0]}, &tip)
	var room [MaxSegments][4]F
	segments := room[:len(l.segments)]
	l.Solve(segments, &own, &far)
	for i, q := range segments {
		k := i * dst.Segment
		dst.W[k], dst.X[k], dst.Y[k], dst.Z[k] = q[0], q[1], q[2], q[3]
	}
	switch {
	case own.Half != own.Half || far.Half != far.Half:
		o.Bad = 1
	case !own.Defined || !far.Defined:
		o.Undefined = 1
	}
	return o
}

// batch solves tile by tile; far is nil where the law has no tip shares, and
// otherwise the tile's.
func (l *Law[F]) batch(own, far *turns[F], dst, joints, tips *View[F], n int) (o Outcome) {
	var in, others, out lanes[F]
	l.lanes(&in, &others, joints, tips)
	out.rotations(dst)
	segment := uintptr(dst.Segment) * unsafe.Sizeof(F(0))
	for first := 0; first < n; first += Tile {
		count := min(Tile, n-first)
		undefined, bad := l.split(own, far, &in, &others, first, count)
		l.rotate(own, far, &out, segment, first, count)
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
	var in, others lanes[F]
	l.lanes(&in, &others, joints, tips)
	for first := 0; first < n; first += Tile {
		count := min(Tile, n-first)
		undefined, bad := l.split(&t.own, &t.far, &in, &others, first, count)
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

// lanes makes them those of the joints and, where the law has tip shares, of the tips.
func (l *Law[F]) lanes(own, far *lanes[F], joints, tips *View[F]) {
	own.rotations(joints)
	if l.hasTip {
		far.rotations(tips)
	}
}

// split measures a tile's twists.
func (l *Law[F]) split(own, far *turns[F], joints, tips *lanes[F], first, n int) (undefined, bad uint64) {
	undefined, bad = l.swing.twists(own, joints, first, n)
	if l.hasTip {
		u, b := l.plain.twists(far, tips, first, n)
		undefined, bad = undefined|u, bad|b
	}
	return undefined &^ bad, bad
}

// rotate writes the segments of n rotations, which are so many bytes from one another.
func (l *Law[F]) rotate(own, far *turns[F], out *lanes[F], segment uintptr, first, n int) {
	if fast && l.fastRotate(own, out, segment, first, n) {
		return
	}
	for i := range l.segments {
		l.plainRotate(own, far, &l.segments[i], out.from(uintptr(first)*out.step+uintptr(i)*segment), n)
	}
}

// plainRotate writes one segment of them.
func (l *Law[F]) plainRotate(own, far *turns[F], s *share[F], out lanes[F], n int) {
	switch s.kind {
	case still:
		for i := range n {
			out.store(i, 1, 0, 0, 0)
		}
	case ownBack:
		l.plainTurn(&own.sin, &own.cos, -1, out, n)
	case tipAll:
		l.plainTurn(&far.sin, &far.cos, 1, out, n)
	default:
		var sin, cos [Tile]F
		half := sin[:n] // the sine comes to the same place
		s.halves(half, own, far)
		sincos(sin[:n], cos[:n], half)
		l.plainTurn(&sin, &cos, 1, out, n)
	}
}

// plainTurn writes the turns about the axis, or against it, of n sines and cosines.
func (l *Law[F]) plainTurn(sin, cos *[Tile]F, sign F, out lanes[F], n int) {
	a, b, c := sign*l.axis[0], sign*l.axis[1], sign*l.axis[2]
	for i := range n {
		sin := sin[i&(Tile-1)]
		out.store(i, cos[i&(Tile-1)], F(sin*a), F(sin*b), F(sin*c))
	}
}
