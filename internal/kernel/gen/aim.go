package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// Numbers of the kernel's Aim by their order in it.
const (
	aimAxis  = 0
	aimLow   = 3
	aimHigh  = 4
	aimLeast = 5

	aimNumbers = 6
)

// Arrays of the kernel's aims: the answers' components, and then this.
const answerSquare = 4

// turns is the kernel's Aim.plainTurns.
func (l lanes) turns() {
	TEXT(l.name("turns"), 0, "func(aim, answers, joints *byte, from uintptr, targets *byte, toward uintptr, n uintptr) (odd uint64)")
	Doc(l.name("turns")+" aims n rotations, a multiple of the vector's lanes, at the targets, and",
		"returns the bits of those that want care.")
	Pragma("noescape")
	constants := newScratch(aimNumbers * wide)
	aim, answers := Load(Param("aim"), GP64()), Load(Param("answers"), GP64())
	for i := range aimNumbers {
		l.store(l.same(l.field(aim, i)), constants.Offset(i*wide))
	}
	odd := GP64()
	XORQ(odd, odd)
	forOrders("turn", "joints", rotations, func(label string, from int) {
		forOrders(label, "targets", directions, func(label string, toward int) {
			joints, targets := newRows("joints", "from", rotation, from), newRows("targets", "toward", direction, toward)
			p, q := l.newPass(), l.freshFour()
			begin, next := p.ahead(joints, func() { p.fetch(joints, q) })
			p.each(label, byOne, func(p pass) {
				begin()
				p.turn(constants, answers, q, p.fetchDirections(targets), next, odd)
			})
		})
	})
	l.alignMarks(odd)
	Store(odd, ReturnIndex(0))
	VZEROUPPER()
	RET()
}

// turn is one round of it.
func (p pass) turn(constants Mem, answers reg.Register, q [4]vector, d [3]vector, next func(), odd reg.GPVirtual) {
	number := func(i int) Mem { return constants.Offset(i * wide) }
	d2 := p.dot3(d, d)
	length, q2 := p.sqrt(d2), p.norm2(q)
	// A NaN in d2 that least and most lose is in the limit too.
	even := p.compare(p.least(q2, d2), greater, number(aimLow))
	even = p.and(even, p.compare(p.most(q2, d2), less, number(aimHigh)))
	limit := p.mul(p.mul(d2, q2), number(aimLeast))
	p.store(even, p.at(answers, 0).Mem) // until the answer comes: registers are few
	p.store(limit, p.at(answers, 1).Mem)
	r := p.arc(q, d, length, number(aimAxis), number(aimAxis+1), number(aimAxis+2))
	next()
	r2 := p.norm2(r)
	p.mark(odd, p.and(p.compare(r2, greaterEqual, p.at(answers, 1)), p.at(answers, 0)))
	for i := range r {
		p.store(r[i], p.at(answers, i).Mem)
	}
	p.store(r2, p.at(answers, answerSquare).Mem)
}

// finish is the kernel's aims.finish.
func (l lanes) finish() {
	TEXT(l.name("finish"), NOSPLIT, "func(answers, lanes *byte, offset, n uintptr)")
	Doc(l.name("finish") + " stores n answers, a multiple of the vector's lanes, at length 1.")
	Pragma("noescape")
	answers := Load(Param("answers"), GP64())
	forOrders("finish", "lanes", rotations, func(label string, order int) {
		r := newRows("lanes", "offset", rotation, order)
		l.newPass().each(label, byOne, func(p pass) {
			inverse := p.div(p.load(p.float(1)), p.sqrt(p.at(answers, answerSquare)))
			var q [4]vector
			for i := range q {
				q[i] = p.mul(inverse, p.at(answers, i))
			}
			p.putRotations(r, q)
		})
	})
	VZEROUPPER()
	RET()
}

// norm2 sums four squares from left to right.
func (l lanes) norm2(q [4]vector) vector {
	return l.add(l.dot3([3]vector{q[0], q[1], q[2]}, [3]vector{q[0], q[1], q[2]}), l.mul(q[3], q[3]))
}

// dot3 sums three products from left to right.
func (l lanes) dot3(a, b [3]vector) vector {
	return l.add(l.add(l.mul(a[0], b[0]), l.mul(a[1], b[1])), l.mul(a[2], b[2]))
}

// arc is |d| q + d m with m = -q a, as Aim.turn has it.
func (l lanes) arc(q [4]vector, d [3]vector, length vector, ax, ay, az Mem) (r [4]vector) {
	w, x, y, z := q[0], q[1], q[2], q[3]
	dx, dy, dz := d[0], d[1], d[2]
	mw := l.add(l.add(l.mul(x, ax), l.mul(y, ay)), l.mul(z, az))
	mx := l.sub(l.sub(l.mul(z, ay), l.mul(y, az)), l.mul(w, ax))
	my := l.sub(l.sub(l.mul(x, az), l.mul(z, ax)), l.mul(w, ay))
	mz := l.sub(l.sub(l.mul(y, ax), l.mul(x, ay)), l.mul(w, az))
	r[0] = l.add(l.add(l.mul(dx, mx), l.mul(dy, my)), l.mul(dz, mz))
	r[1] = l.sub(l.add(l.mul(dx, mw), l.mul(dy, mz)), l.mul(dz, my))
	r[2] = l.sub(l.add(l.mul(dy, mw), l.mul(dz, mx)), l.mul(dx, mz))
	r[3] = l.sub(l.add(l.mul(dz, mw), l.mul(dx, my)), l.mul(dy, mx))
	for i := range r { // as late as can be: a root takes long
		scaled := l.mul(q[i], length)
		if i == 0 {
			r[i] = l.sub(scaled, r[i])
		} else {
			r[i] = l.add(scaled, r[i])
		}
	}
	return r
}
