package main

import (
	"math/bits"

	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
)

// Numbers of the kernel's Aim by their order in it.
const (
	aimAxis  = 0
	aimLow   = 3
	aimHigh  = 4
	aimLeast = 5

	aimNumbers = 6
)

// aims is the kernel's Aim.turn and finish, without those that want care.
func (l lanes) aims() {
	TEXT(l.name("aims"), 0, "func(aim *byte, w, x, y, z *byte, step uintptr, order uint8, "+
		"dw, dx, dy, dz *byte, dstep uintptr, dorder uint8, "+
		"rw, rx, ry, rz *byte, rstep uintptr, rorder uint8, n uintptr) (done uintptr)")
	Doc(l.name("aims")+" aims n rotations, a multiple of the vector's lanes, at the directions d and stores",
		"the answers r. It stops before a vector with one that wants care, and returns how",
		"many it has done.")
	Pragma("noescape")
	constants := newScratch((aimNumbers + 2) * wide)
	even, limit := constants.Offset(aimNumbers*wide), constants.Offset((aimNumbers+1)*wide)
	aim := Load(Param("aim"), GP64())
	for i := range aimNumbers {
		l.store(l.same(l.field(aim, i)), constants.Offset(i*wide))
	}
	p := l.newPass()
	p.each("aim", byOne, func(l pass, label string) {
		q := l.fetch(newRows(""), label)
		d := l.fetchDirections(newRows("d"), label+"Direction")
		number := func(i int) Mem { return constants.Offset(i * wide) }
		d2, q2 := l.dot3(d, d), l.add(l.dot3([3]vector{q[0], q[1], q[2]}, [3]vector{q[0], q[1], q[2]}), l.mul(q[3], q[3]))
		l.store(l.and(l.between(d2, number(aimLow), number(aimHigh)), l.between(q2, number(aimLow), number(aimHigh))), even)
		l.store(l.mul(l.mul(d2, q2), number(aimLeast)), limit)
		r := l.arc(q, d, l.sqrt(d2), number(aimAxis), number(aimAxis+1), number(aimAxis+2))
		r2 := l.add(l.dot3([3]vector{r[0], r[1], r[2]}, [3]vector{r[0], r[1], r[2]}), l.mul(r[3], r[3]))
		all, mask := l.and(l.compare(r2, greaterEqual, limit), even), GP32()
		l.signs(all, mask)
		CMPL(mask, U32(1<<l.count()-1))
		JNE(LabelRef("careful"))
		inverse := l.div(l.load(l.float(1)), l.sqrt(r2))
		for i := range r {
			r[i] = l.mul(r[i], inverse)
		}
		l.putRotations(newRows("r"), r)
		for _, prefix := range []string{"", "d", "r"} {
			l.forward(prefix)
		}
	})
	Label("careful")
	VZEROUPPER()
	Store(p.i, ReturnIndex(0))
	RET()
}

// forward moves the addresses of a view on. Planes' steps are their numbers'.
func (l lanes) forward(prefix string) {
	ahead := GP64()
	MOVQ(address(prefix+"step"), ahead)
	SHLQ(Imm(uint64(bits.TrailingZeros(uint(l.count())))), ahead)
	for _, name := range components {
		ADDQ(ahead, address(prefix+name))
	}
}

// dot3 sums three products from left to right.
func (l lanes) dot3(a, b [3]vector) vector {
	return l.add(l.add(l.mul(a[0], b[0]), l.mul(a[1], b[1])), l.mul(a[2], b[2]))
}

func (l lanes) between(x vector, low, high Mem) vector {
	return l.and(l.compare(x, greater, low), l.compare(x, less, high))
}

// arc is |d| q + d m with m = -q a, as Aim.turn has it.
func (l lanes) arc(q [4]vector, d [3]vector, length vector, ax, ay, az Mem) (r [4]vector) {
	w, x, y, z := q[0], q[1], q[2], q[3]
	dx, dy, dz := d[0], d[1], d[2]
	mw := l.add(l.add(l.mul(x, ax), l.mul(y, ay)), l.mul(z, az))
	mx := l.sub(l.sub(l.mul(z, ay), l.mul(y, az)), l.mul(w, ax))
	my := l.sub(l.sub(l.mul(x, az), l.mul(z, ax)), l.mul(w, ay))
	mz := l.sub(l.sub(l.mul(y, ax), l.mul(x, ay)), l.mul(w, az))
	r[0] = l.sub(l.mul(w, length), l.add(l.add(l.mul(dx, mx), l.mul(dy, my)), l.mul(dz, mz)))
	r[1] = l.add(l.mul(x, length), l.sub(l.add(l.mul(dx, mw), l.mul(dy, mz)), l.mul(dz, my)))
	r[2] = l.add(l.mul(y, length), l.sub(l.add(l.mul(dy, mw), l.mul(dz, mx)), l.mul(dx, mz)))
	r[3] = l.add(l.mul(z, length), l.sub(l.add(l.mul(dz, mw), l.mul(dx, my)), l.mul(dy, mx)))
	return r
}

// putRotations stores one vector's worth of rotations of whatever order.
func (l lanes) putRotations(r rows, q [4]vector) {
	CMPB(r.order, Imm(planes))
	JNE(LabelRef("putSide"))
	for i := range q {
		l.store(q[i], Mem{Base: r.at[i]})
	}
	JMP(LabelRef("put"))
	Label("putSide")
	CMPB(r.order, Imm(wxyz))
	JNE(LabelRef("putLast"))
	l.putFours(r, l.spread(q))
	JMP(LabelRef("put"))
	Label("putLast") // xyzw
	l.putFours(r, l.spread([4]vector{q[1], q[2], q[3], q[0]}))
	Label("put")
}

// putFours stores what spread gives.
func (l lanes) putFours(r rows, four [4]vector) {
	low := r.four(r.at[0])
	if l.bits == 64 {
		for i := range four {
			l.store(four[i], low[i])
		}
		return
	}
	next := GP64()
	LEAQ(Mem{Base: r.at[0], Index: r.everyFour, Scale: 1}, next)
	high := r.four(next)
	for i := range four {
		VMOVUPS(four[i][0].AsX(), low[i])
		VEXTRACTF128(Imm(1), four[i][0], high[i])
	}
}
