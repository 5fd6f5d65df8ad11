package kernel

import (
	"math/bits"

	"github.com/pronate/pronate/swing"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Aim turns frames by the smallest rotation that makes their axis a point along a
// target d, as swing.Aim does.
//
// The arc from v = q a q* to d is |d| + d v* up to its length, d and v pure
// quaternions, so that
//
//	arc q = |d| q - d q a        up to its length, q and d of any
//
// for q* q drops out. Its squared length is (2 c |d| |q|)^2 with c the cosine
// of half the arc. Where that is small the difference cancels: below least the
// answer is swing.Aim's, in float64, which does not.
//
// The assembly reads the first fields by their order.
type Aim[F Real] struct {
	axis             [3]F
	low, high, least F

	exact r3.Vec
}

// leastAim is the square of 2c at c = 1/16, an arc of 173 degrees.
const leastAim = 1. / 64

// Squared lengths of q and d between these have a product that neither overflows
// nor loses bits, times 4 or leastAim. low32 and high32 are such already.
const lowAim64, highAim64 = 0x1p-450, 0x1p+450

// MaxAimError64 and MaxAimError32 bound the error of a component, times c, the
// cosine of half the arc: |d| q and d q a, good to 3 and 6 roundings of |d| |q|,
// each at most 2^-53 and 2^-24, over a length of 2c |d| |q|, and 3 for that length.
const (
	MaxAimError64 = 8 * 0x1p-53
	MaxAimError32 = 8 * 0x1p-24
)

// NewAim aims a unit axis.
func NewAim[F Real](axis r3.Vec) *Aim[F] {
	return &Aim[F]{
		axis: of[F](axis),
		low:  limit[F](low32, lowAim64), high: limit[F](high32, highAim64), least: leastAim,
		exact: axis,
	}
}

// Batch aims n rotations at as many directions. dst may be joints. Undefined
// counts those whose arc is half a turn, or whose direction or rotation is zero.
func (a *Aim[F]) Batch(dst, joints, targets *View[F], n int) (o Outcome) {
	dst.mustHold(n, 1)
	joints.mustHold(n, 1)
	targets.mustHold(n, 1)
	var room onLine[aims[F]]
	t := room.value()
	var from, toward, out lanes[F]
	from.rotations(joints)
	toward.directions(targets)
	out.rotations(dst)
	for first := 0; first < n; first += Tile {
		count := min(Tile, n-first)
		for odd := a.turns(t, &from, &toward, first, count); odd != 0; odd &= odd - 1 {
			a.careful(t, bits.TrailingZeros64(odd), &from, &toward, first, &o)
		}
		t.finish(&out, first, count)
	}
	return o
}

// aims are the answers of a tile's rotations, but for their lengths.
//
// The assembly knows the order of these fields.
type aims[F Real] struct {
	w, x, y, z, r2 [Tile]F // r2 is the squared length
}

// turns is the first pass: all but the length. Bits of odd are set where an answer
// wants care.
func (a *Aim[F]) turns(t *aims[F], joints, targets *lanes[F], first, n int) (odd uint64) {
	done := 0
	if fast {
		odd, done = a.fastTurns(t, joints, targets, first, n)
	}
	if done < n {
		odd |= a.plainTurns(t, joints, targets, first, done, n)
	}
	return odd
}

// plainTurns is turns from done to n. Products that meet in a sum are taken from
// left to right.
func (a *Aim[F]) plainTurns(t *aims[F], joints, targets *lanes[F], first, done, n int) (odd uint64) {
	from, toward := joints.from(uintptr(first)*joints.step), targets.from(uintptr(first)*targets.step)
	ax, ay, az := a.axis[0], a.axis[1], a.axis[2]
	for i := done; i < n; i++ {
		w, x, y, z := from.load(i)
		dx, dy, dz := toward.direction(i)
		d2 := F(dx*dx) + F(dy*dy) + F(dz*dz)
		q2 := F(w*w) + F(x*x) + F(y*y) + F(z*z)
		d := sqrt(d2)
		// m = -q a
		mw := F(x*ax) + F(y*ay) + F(z*az)
		mx := F(z*ay) - F(y*az) - F(w*ax)
		my := F(x*az) - F(z*ax) - F(w*ay)
		mz := F(y*ax) - F(x*ay) - F(w*az)
		// r = |d| q + d m
		w = F(d*w) - (F(dx*mx) + F(dy*my) + F(dz*mz))
		x = F(d*x) + (F(dx*mw) + F(dy*mz) - F(dz*my))
		y = F(d*y) + (F(dy*mw) + F(dz*mx) - F(dx*mz))
		z = F(d*z) + (F(dz*mw) + F(dx*my) - F(dy*mx))
		r2 := F(w*w) + F(x*x) + F(y*y) + F(z*z)
		i := i & (Tile - 1)
		if !(d2 > a.low && d2 < a.high && q2 > a.low && q2 < a.high && r2 >= F(a.least*F(d2*q2))) {
			odd |= 1 << i
		}
		t.w[i], t.x[i], t.y[i], t.z[i], t.r2[i] = w, x, y, z, r2
	}
	return odd
}

// finish is the second pass: it brings the answers to length 1.
func (t *aims[F]) finish(dst *lanes[F], first, n int) {
	if fast && t.fastFinish(dst, first, n) {
		return
	}
	out := dst.from(uintptr(first) * dst.step)
	for i := range n {
		k := i & (Tile - 1)
		inverse := 1 / sqrt(t.r2[k])
		out.store(i, F(t.w[k]*inverse), F(t.x[k]*inverse), F(t.y[k]*inverse), F(t.z[k]*inverse))
	}
}

// careful aims one rotation of a tile by swing.Aim. The answer's length is 1, and
// finish leaves it as it is.
func (a *Aim[F]) careful(t *aims[F], i int, joints, targets *lanes[F], first int, o *Outcome) {
	w, x, y, z := joints.load(first + i)
	dx, dy, dz := targets.direction(first + i)
	q, determined := swing.Aim(
		quat.Number{Real: float64(w), Imag: float64(x), Jmag: float64(y), Kmag: float64(z)},
		a.exact,
		r3.Vec{X: float64(dx), Y: float64(dy), Z: float64(dz)},
	)
	w, x, y, z = F(q.Real), F(q.Imag), F(q.Jmag), F(q.Kmag)
	switch {
	case q.Real != q.Real:
		o.Bad++
		w, x, y, z = nan[F](), nan[F](), nan[F](), nan[F]()
	case !determined:
		o.Undefined++
	}
	t.w[i], t.x[i], t.y[i], t.z[i], t.r2[i] = w, x, y, z, 1
}
