package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// Numbers of the kernel's Swing by their order in it.
const (
	swingHalf  = 0
	swingCos   = 3
	swingSin   = 4
	swingLow   = 7
	swingHigh  = 8
	swingLeast = 9
	swingX     = 10
	swingY     = 14
	swingRest  = 18
)

// swingOrdinary is how many of them a field without a correction takes.
const swingOrdinary = swingX

// field is the place of one of those numbers.
func (l lanes) field(swing reg.Register, index int) Mem {
	return Mem{Base: swing, Disp: index * l.size()}
}

// twists is the kernel's plainTwists. It goes through the tile several times: a
// shorter chain of operations keeps less of the processor waiting.
func (l lanes) twists() {
	TEXT(l.name("twists"), 0, fmt.Sprintf("func(swing, turns, w, x, y, z *byte, step, n uintptr, order uint8, "+
		"coefficients *byte, nx, ny float%d, row uint32) (odd uint64)", l.bits))
	Doc(l.name("twists")+" stores half, sin and cos of n rotations, a multiple of the vector's lanes,",
		"and returns the bits of those that need care. With coefficients it undoes the",
		"correction too; the table has nx by ny cells, and row coefficients a row.")
	Pragma("noescape")
	swing := Load(Param("swing"), GP64())
	turns := Load(Param("turns"), GP64())
	scratch := l.newScratch()
	odd := l.measure(swing, turns, scratch)
	Store(odd, ReturnIndex(0))
	l.newPass().each("angles", byOne, func(p pass, _ string) {
		half := p.at(turns, 0)
		p.store(p.atan(p.load(half)), half.Mem)
	})
	CMPQ(address("coefficients"), Imm(0))
	JE(LabelRef("uncorrected"))
	l.correct(swing, turns, scratch)
	Label("uncorrected")
	VZEROUPPER()
	RET()
}

// measure is all but the arc tangent and the correction, whose places it finds.
func (l lanes) measure(swing, turns reg.Register, scratch scratch) (odd reg.GPVirtual) {
	l.fill(scratch.constants, swing)
	r := newRows("")
	odd = GP64()
	XORQ(odd, odd)
	l.newPass().each("measure", byOne, func(l pass, label string) {
		half, sin, cos := l.at(turns, 0), l.at(turns, 1), l.at(turns, 2)
		a, b := l.in(scratch.places, 0), l.in(scratch.places, 1)
		q := l.fetch(r, label)
		CMPQ(address("coefficients"), Imm(0))
		JE(LabelRef("nowhere"))
		l.store(l.across(swing, swingX, q), a.Mem)
		l.store(l.across(swing, swingY, q), b.Mem)
		Label("nowhere")
		p, w, sign, n2, norm2 := l.parts(scratch.constants, q)
		l.mark(odd, l.i, l.isEven(scratch.constants, n2, norm2))
		n := l.sqrt(n2)
		l.store(l.quarter(p, w, n), half.Mem)
		inverse := l.div(l.load(l.float(1)), n)
		s, c := l.mul(p, inverse), l.mul(w, inverse)
		l.store(s, sin.Mem)
		l.store(c, cos.Mem)
		CMPQ(address("coefficients"), Imm(0))
		JE(LabelRef("placed"))
		back := l.xor(inverse, sign)
		u := l.mul(l.add(l.mul(s, a), l.mul(c, b)), back)
		v := l.mul(l.sub(l.mul(s, b), l.mul(c, a)), back)
		l.store(u, a.Mem)
		l.store(v, b.Mem)
		Label("placed")
	})
	return odd
}

// fill makes vectors of a swing's numbers.
func (l lanes) fill(constants Mem, swing reg.Register) {
	for i := range swingOrdinary {
		l.store(l.same(l.field(swing, i)), constants.Offset(i*wide))
	}
}

// mark sets the bits of the lanes from i on that are not even.
func (l lanes) mark(odd, i reg.GPVirtual, even vector) {
	bits := GP32()
	l.signs(even, bits)
	XORL(U32(1<<l.count()-1), bits)
	MOVB(i.As8(), reg.CL)
	SHLQ(reg.CL, bits.As64())
	ORQ(bits.As64(), odd)
}

// parts is Swing.parts; the sign comes as a sign bit.
func (l lanes) parts(constants Mem, q [4]vector) (p, r, sign, n2, norm2 vector) {
	each := func(index int) Mem { return constants.Offset(index * wide) }
	w, x, y, z := q[0], q[1], q[2], q[3]
	norm2 = l.add(l.add(l.add(l.mul(w, w), l.mul(x, x)), l.mul(y, y)), l.mul(z, z))
	p = l.add(l.add(l.mul(x, each(swingHalf)), l.mul(y, each(swingHalf+1))), l.mul(z, each(swingHalf+2)))
	r = l.add(l.mul(w, each(swingCos)),
		l.add(l.add(l.mul(x, each(swingSin)), l.mul(y, each(swingSin+1))), l.mul(z, each(swingSin+2))))
	sign = l.and(r, l.sign())
	r, p = l.xor(r, sign), l.xor(p, sign)
	none := l.compare(r, equal, l.float(0))
	p = l.without(p, l.and(none, l.sign()))
	return p, r, sign, l.add(l.mul(r, r), l.mul(p, p)), norm2
}

// isEven is Swing.isEven as a mask.
func (l lanes) isEven(constants Mem, n2, norm2 vector) vector {
	each := func(index int) Mem { return constants.Offset(index * wide) }
	even := l.compare(norm2, greater, each(swingLow))
	even = l.and(even, l.compare(norm2, less, each(swingHigh)))
	return l.and(even, l.compare(n2, greaterEqual, l.mul(norm2, each(swingLeast))))
}

// quarter is the function of that name.
func (l lanes) quarter(p, w, n vector) vector {
	m := l.add(n, w)
	if l.bits == 32 {
		return l.div(p, m)
	}
	product := l.mul(n, m)
	return l.div(p, l.add(m, l.sqrt(l.add(product, product))))
}

// across reads a component of q B* off q, as Swing.correction does.
func (l lanes) across(swing reg.Register, index int, q [4]vector) vector {
	each := func(i int) vector { return l.same(l.field(swing, index+i)) }
	return l.add(l.mul(q[0], each(0)),
		l.add(l.add(l.mul(q[1], each(1)), l.mul(q[2], each(2))), l.mul(q[3], each(3))))
}
