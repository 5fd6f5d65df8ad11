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

// fields are the kinds of field, as the kernel numbers them.
const (
	centred   = 0
	plain     = 1 // the arc to its centre is no turn
	corrected = 2
)

var fieldNames = [3]string{"Centred", "Plain", "Corrected"}

// twists is the kernel's plainTwists. It goes through the tile several times: a
// shorter chain of operations keeps less of the processor waiting.
func (l lanes) twists() {
	TEXT(l.name("twists"), 0, fmt.Sprintf("func(swing, turns, lanes *byte, offset, n uintptr, field uint8, "+
		"coefficients *byte, nx, ny float%d, row uint32) (odd uint64)", l.bits))
	Doc(l.name("twists")+" stores half, sin and cos of n rotations, a multiple of the vector's lanes,",
		"and returns the bits of those that need care. Of a corrected field it undoes the",
		"correction too; the table has nx by ny cells, and row coefficients a row.")
	Pragma("noescape")
	swing := Load(Param("swing"), GP64())
	turns := Load(Param("turns"), GP64())
	scratch := l.newScratch()
	l.fill(scratch.constants, swing)
	odd := GP64()
	XORQ(odd, odd)
	forOrders("measure", "lanes", rotations, func(label string, order int) {
		for _, field := range []int{plain, corrected, centred} {
			here := label + fieldNames[field]
			CMPB(address("field"), Imm(uint64(field)))
			JNE(LabelRef(here + "Not"))
			l.measure(here, order, field, swing, turns, odd, scratch)
			JMP(LabelRef("measured"))
			Label(here + "Not")
		}
	})
	Label("measured")
	l.alignMarks(odd)
	Store(odd, ReturnIndex(0))
	l.newPass().each("angles", byOne, func(p pass) {
		half := p.at(turns, 0)
		p.store(p.atan(p.load(half)), half.Mem)
	})
	CMPB(address("field"), Imm(corrected))
	JNE(LabelRef("uncorrected"))
	l.correct(swing, turns, scratch)
	Label("uncorrected")
	VZEROUPPER()
	RET()
}

// measure is all but the arc tangent and the correction, whose places it finds.
func (l lanes) measure(label string, order, field int, swing, turns reg.Register, odd reg.GPVirtual, scratch scratch) {
	r := newRows("lanes", "offset", rotation, order)
	p, q := l.newPass(), l.freshFour()
	begin, next := p.ahead(r, func() { p.fetch(r, q) })
	p.each(label, byOne, func(p pass) {
		begin()
		half, sin, cos := p.at(turns, 0), p.at(turns, 1), p.at(turns, 2)
		a, b := p.in(scratch.places, 0), p.in(scratch.places, 1)
		if field == corrected {
			p.store(p.across(swing, swingX, q), a.Mem)
			p.store(p.across(swing, swingY, q), b.Mem)
		}
		along, w, sign, n2, norm2 := p.parts(scratch.constants, q, field)
		next()
		p.mark(odd, p.isEven(scratch.constants, n2, norm2))
		n := p.sqrt(n2)
		p.store(p.quarter(along, w, n), half.Mem)
		inverse := p.div(p.load(p.float(1)), n)
		s, c := p.mul(along, inverse), p.mul(w, inverse)
		p.store(s, sin.Mem)
		p.store(c, cos.Mem)
		if field == corrected {
			back := p.xor(inverse, sign)
			u := p.mul(p.add(p.mul(s, a), p.mul(c, b)), back)
			v := p.mul(p.sub(p.mul(s, b), p.mul(c, a)), back)
			p.store(u, a.Mem)
			p.store(v, b.Mem)
		}
	})
}

// fill makes vectors of a swing's numbers.
func (l lanes) fill(constants Mem, swing reg.Register) {
	for i := range swingOrdinary {
		l.store(l.same(l.field(swing, i)), constants.Offset(i*wide))
	}
}

// mark moves the bits of a vector's lanes, set where they are even, in from the top.
func (l lanes) mark(odd reg.GPVirtual, even vector) {
	bits := GP32()
	l.signs(even, bits)
	SHRQ(Imm(uint64(l.count())), odd)
	SHLQ(Imm(uint64(64-l.count())), bits.As64())
	ORQ(bits.As64(), odd)
}

// alignMarks brings the bits of n lanes down, set where they are not even.
func (l lanes) alignMarks(odd reg.GPVirtual) {
	MOVQ(U32(64), reg.RCX)
	SUBQ(address("n"), reg.RCX)
	NOTQ(odd)
	SHRQ(reg.CL, odd)
}

// parts is Swing.parts; the sign comes as a sign bit. In a field of shortest arcs r is w, or a
// zero of either sign, which makes no difference.
func (l lanes) parts(constants Mem, q [4]vector, field int) (p, r, sign, n2, norm2 vector) {
	each := func(index int) Mem { return constants.Offset(index * wide) }
	w, x, y, z := q[0], q[1], q[2], q[3]
	norm2 = l.norm2(q)
	p = l.add(l.add(l.mul(x, each(swingHalf)), l.mul(y, each(swingHalf+1))), l.mul(z, each(swingHalf+2)))
	r = w
	if field != plain {
		r = l.add(l.mul(w, each(swingCos)),
			l.add(l.add(l.mul(x, each(swingSin)), l.mul(y, each(swingSin+1))), l.mul(z, each(swingSin+2))))
	}
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
