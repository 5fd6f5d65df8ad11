package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
)

// putRotations stores one vector's worth of rotations and advances.
func (p pass) putRotations(r rows, q [4]vector) {
	if r.order == planes {
		for i := range q {
			p.store(q[i], p.component(r, i))
		}
		return
	}
	p.putFours(r, p.spread(ordered(r.order, q)))
	p.advance(r)
}

// ordered are components in the order that they lie in.
func ordered(order int, q [4]vector) [4]vector {
	if order == wxyz {
		return q
	}
	return [4]vector{q[1], q[2], q[3], q[0]}
}

// putFours stores what spread gives.
func (l lanes) putFours(r rows, four [4]vector) {
	if l.bits == 64 {
		for i, at := range r.four(r.at[0]) {
			l.store(four[i], at)
		}
		return
	}
	low, high := r.eight()
	for i := range four {
		putHalves(four[i], low[i], high[i])
	}
}

// putHalves stores the halves of a vector in two places.
func putHalves(x vector, low, high Mem) {
	VMOVUPS(x[0].AsX(), low)
	VEXTRACTF128(Imm(1), x[0], high)
}

// order4 is the operand that picks numbers of a quarter vector.
func order4(i, j, k, m uint64) Constant { return Imm(i | j<<2 | k<<4 | m<<6) }
