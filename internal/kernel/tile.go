package kernel

import (
	"math/bits"
	"unsafe"
)

// Tile is how many rotations go through a pass at a time: few enough for their
// numbers to stay in the nearest cache, and a bit each in a word.
const Tile = 64

// onLine is room for a value from the start of a cache's line on: vectors that lie
// across two lines are slow.
type onLine[T any] struct {
	room T
	_    [line]byte
}

const line = 64

func (o *onLine[T]) value() *T {
	p := unsafe.Pointer(o)
	return (*T)(unsafe.Add(p, -uintptr(p)&(line-1)))
}

// tile is where the passes over some rotations leave their numbers. The assembly
// finds far behind own.
type tile[F Real] struct{ own, far turns[F] }

// turns are the half twists of a tile's rotations.
type turns[F Real] struct {
	half, sin, cos [Tile]F
}

// twists measures n rotations from the first of v on. Bits of undefined and bad
// are set where a rotation has no twist, and where it is not finite; it counts as
// no turn then.
func (s *Swing[F]) twists(t *turns[F], v *lanes[F], first, n int) (undefined, bad uint64) {
	var odd uint64
	done := 0
	if fast {
		odd, done = s.fastTwists(t, v, first, n)
	}
	if done < n {
		odd |= s.plainTwists(t, v, first, done, n)
	}
	for ; odd != 0; odd &= odd - 1 {
		i := bits.TrailingZeros64(odd)
		var one Twist[F]
		w, x, y, z := v.load(first + i)
		s.Twist(&one, w, x, y, z)
		switch {
		case one.Half != one.Half:
			bad |= 1 << i
			one.set(0, 0, 1, 0, false)
		case !one.Defined:
			undefined |= 1 << i
		}
		t.half[i], t.sin[i], t.cos[i] = one.Half, one.Sin, one.Cos
	}
	return undefined, bad
}

// plainTwists measures those from done to n that need no care, and returns the
// bits of the others.
func (s *Swing[F]) plainTwists(t *turns[F], v *lanes[F], first, done, n int) (odd uint64) {
	var back [Tile]F
	in := v.from(uintptr(first) * v.step)
	// The sine's and the cosine's places hold p and w, half's the squared length.
	for i := done; i < n; i++ {
		p, r, sign, n2, norm2 := s.parts(in.load(i))
		i := i & (Tile - 1)
		t.half[i], t.sin[i], t.cos[i], back[i] = n2, p, r, sign
		if !s.isEven(n2, norm2) {
			odd |= 1 << i
		}
	}
	for i := done; i < n; i++ {
		i := i & (Tile - 1)
		n, p, r := sqrt(t.half[i]), t.sin[i], t.cos[i]
		inverse := 1 / n
		t.half[i], t.sin[i], t.cos[i], back[i] = quarter(p, r, n), F(p*inverse), F(r*inverse), F(back[i]*inverse)
	}
	atan(t.half[done:n])
	if s.isCorrected() {
		var chi, sin, cos [Tile]F
		for i := done; i < n; i++ {
			w, x, y, z := in.load(i)
			i := i & (Tile - 1)
			chi[i] = s.correction(w, x, y, z, t.sin[i], t.cos[i], back[i])
		}
		sincos(sin[done:n], cos[done:n], chi[done:n])
		for i := done; i < n; i++ {
			i := i & (Tile - 1)
			t.half[i], t.sin[i], t.cos[i] = undo(t.half[i], t.sin[i], t.cos[i], chi[i], sin[i], cos[i])
		}
	}
	return odd
}
