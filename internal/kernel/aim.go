package kernel

import (
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
		low:  limit[F](low32, low64), high: limit[F](high32, high64), least: leastAim,
		exact: axis,
	}
}

// Batch aims n rotations at as many directions. dst may be joints. Undefined
// counts those whose arc is half a turn, or whose direction or rotation is zero.
func (a *Aim[F]) Batch(dst, joints, targets *View[F], n int) (o Outcome) {
	dst.mustHold(n, 1)
	joints.mustHold(n, 1)
	targets.mustHold(n, 1)
	var t aims[F]
	for first := 0; first < n; {
		count := min(Tile, n-first)
		if fast {
			first += a.fastAims(dst, joints, targets, first, n)
			if first == n {
				break // there is nothing left to point at
			}
			count = min(Tile/8, n-first) // past those that made it stop
		}
		a.turn(&t, joints, targets, first, count)
		a.finish(&t, dst, joints, targets, first, count, &o)
		first += count
	}
	return o
}

// aims are the answers of some rotations, but for their lengths.
type aims[F Real] struct {
	w, x, y, z, r2 [Tile]F // r2 is the squared length; NaN where the answer wants care
}

// turn is the first pass: all but the length. Products that meet in a sum are taken
// from left to right.
func (a *Aim[F]) turn(t *aims[F], joints, targets *View[F], first, n int) {
	from, toward := joints.lanes(first*joints.Stride), targets.lanes(first*targets.Stride)
	ax, ay, az := a.axis[0], a.axis[1], a.axis[2]
	for i := range n {
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
		if !(d2 > a.low && d2 < a.high && q2 > a.low && q2 < a.high && r2 >= F(a.least*F(d2*q2))) {
			r2 = nan[F]()
		}
		i := i & (Tile - 1)
		t.w[i], t.x[i], t.y[i], t.z[i], t.r2[i] = w, x, y, z, r2
	}
}

// finish is the second pass: it brings the answers to length 1.
func (a *Aim[F]) finish(t *aims[F], dst, joints, targets *View[F], first, n int, o *Outcome) {
	out := dst.lanes(first * dst.Stride)
	for i := range n {
		k := i & (Tile - 1)
		r2 := t.r2[k]
		if r2 != r2 {
			a.careful(dst, joints, targets, first+i, o)
			continue
		}
		inverse := 1 / sqrt(r2)
		out.store(i, F(t.w[k]*inverse), F(t.x[k]*inverse), F(t.y[k]*inverse), F(t.z[k]*inverse))
	}
}

// careful aims one rotation by swing.Aim.
func (a *Aim[F]) careful(dst, joints, targets *View[F], i int, o *Outcome) {
	w, x, y, z := joints.at(i)
	k := i * targets.Stride
	q, determined := swing.Aim(
		quat.Number{Real: float64(w), Imag: float64(x), Jmag: float64(y), Kmag: float64(z)},
		a.exact,
		r3.Vec{X: float64(targets.X[k]), Y: float64(targets.Y[k]), Z: float64(targets.Z[k])},
	)
	w, x, y, z = F(q.Real), F(q.Imag), F(q.Jmag), F(q.Kmag)
	switch {
	case q.Real != q.Real:
		o.Bad++
		w, x, y, z = nan[F](), nan[F](), nan[F](), nan[F]()
	case !determined:
		o.Undefined++
	}
	k = i * dst.Stride
	dst.W[k], dst.X[k], dst.Y[k], dst.Z[k] = w, x, y, z
}
