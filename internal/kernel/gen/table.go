package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// cubic is the function of that name of the kernel's table.
func (l lanes) cubic(t vector) (b [4]vector) {
	one := l.load(l.float(1))
	m := l.sub(one, t)
	b[0] = l.mul(l.mul(l.mul(m, m), m), l.ratio(1, 6))
	b[3] = l.mul(l.mul(l.mul(t, t), t), l.ratio(1, 6))
	middle := func(t vector) vector {
		return l.sub(l.load(l.ratio(2, 3)), l.mul(l.mul(t, t), l.sub(one, l.mul(t, l.float(0.5)))))
	}
	b[1], b[2] = middle(t), middle(m)
	return b
}

// cell splits places in the table, not below 0, into whole cells and the rest.
func (l lanes) cell(u vector) (index reg.VecVirtual, rest vector) {
	whole := YMM()
	if l.bits == 32 {
		index = YMM()
		VCVTTPS2DQ(u[0], index)
		VCVTDQ2PS(index, whole)
	} else {
		index = XMM()
		VCVTTPD2DQY(u[0], index)
		VCVTDQ2PD(index, whole)
	}
	return index, l.sub(u, vector{whole})
}

// spread gives each rotation's four numbers side by side: of singles those of
// rotations k and k+4 in vector k, of doubles those of rotation k.
func (l lanes) spread(c [4]vector) (out [4]vector) {
	front := [2]vector{l.even(c[0], c[1]), l.even(c[2], c[3])}
	back := [2]vector{l.odd(c[0], c[1]), l.odd(c[2], c[3])}
	for i := range out {
		out[i] = l.fresh()
	}
	if l.bits == 32 {
		interleave([4][2]vector{front, front, back, back}, out)
		return out
	}
	for i, pair := range [][2]vector{front, back} {
		VINSERTF128(Imm(1), pair[1][0].AsX(), pair[0][0], out[i][0])
		VPERM2F128(Imm(0x31), pair[1][0], pair[0][0], out[i+2][0])
	}
	return out
}

// pairs sums neighbours, of x and of y in turn.
func (l lanes) pairs(x, y vector) vector {
	out := l.fresh()
	if l.bits == 32 {
		VHADDPS(y[0], x[0], out[0])
	} else {
		VHADDPD(y[0], x[0], out[0])
	}
	return out
}

// dot sums each rotation's four products of weights and of the coefficients from
// base on, as the table does: the first two, the last two, and both.
func (l lanes) dot(weights [4]vector, base reg.Register, first []reg.GPVirtual) vector {
	at := func(k int) Mem { return Mem{Base: base, Index: first[k], Scale: 4} }
	product := func(k int) vector {
		if l.bits == 32 {
			return l.mul(weights[k], halves(at(k), at(k+4)))
		}
		row := YMM()
		VCVTPS2PD(at(k), row)
		return l.mul(weights[k], vector{row})
	}
	low, high := l.pairs(product(0), product(1)), l.pairs(product(2), product(3))
	if l.bits == 32 {
		return l.pairs(low, high)
	}
	front, back := YMM(), YMM()
	VINSERTF128(Imm(1), high[0].AsX(), low[0], front)
	VPERM2F128(Imm(0x31), high[0], low[0], back)
	return l.add(vector{front}, vector{back})
}

// box is the table that Swing has, by what lies in registers.
type box struct {
	least   [2]Mem // its corner
	perStep Mem
	cells   [2]Mem // their numbers
	row     Mem    // coefficients in a row
}

// locate is Table.At up to the cell that (u, v) is in: which coefficient its first
// is, how far into the cell the place is, and a mask of those inside the table. Of
// the others, and of NaN, it gives the first cell.
func (l lanes) locate(b box, u, v vector) (first reg.VecVirtual, s, t, inside vector) {
	scale := l.same(b.perStep)
	u = l.mul(l.sub(u, l.same(b.least[0])), scale)
	v = l.mul(l.sub(v, l.same(b.least[1])), scale)
	none := l.load(l.float(0))
	inside = l.compare(u, greaterEqual, none)
	inside = l.and(inside, l.compare(v, greaterEqual, none))
	inside = l.and(inside, l.compare(u, less, l.same(b.cells[0])))
	inside = l.and(inside, l.compare(v, less, l.same(b.cells[1])))
	i, s := l.cell(l.and(u, inside))
	j, t := l.cell(l.and(v, inside))

	integers := YMM
	if l.bits == 64 {
		integers = XMM
	}
	stride, low, row := integers(), XMM(), GP32()
	MOVL(b.row, row)
	VMOVD(row, low)
	VPBROADCASTD(low, stride)
	first = integers()
	VPMULLD(stride, j, first)
	VPADDD(i, first, first)
	return first, s, t, inside
}

// sum is the rest of Table.At for cells whose first coefficients are the numbers
// from at on. Registers do not serve to keep the weights across in.
func (l lanes) sum(at Mem, s, t vector, across Mem) vector {
	first := make([]reg.GPVirtual, l.count())
	for k := range first {
		first[k] = GP64()
		MOVL(at.Offset(4*k), first[k].As32())
	}
	for k, weight := range l.cubic(t) {
		l.store(weight, across.Offset(k*wide))
	}
	weights := l.spread(l.cubic(s))

	base, step := GP64(), GP64()
	MOVQ(address("coefficients"), base)
	MOVL(address("row"), step.As32())
	var terms [4]vector
	for k := range terms {
		Comment(fmt.Sprint("row ", k))
		terms[k] = l.mul(l.dot(weights, base, first), across.Offset(k*wide))
		if k < 3 {
			LEAQ(Mem{Base: base, Index: step, Scale: 4}, base)
		}
	}
	return l.add(l.add(terms[0], terms[1]), l.add(terms[2], terms[3]))
}
