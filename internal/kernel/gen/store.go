package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// put stores rotations (cos, sin axis) in whatever order and advances.
func (l lanes) put(r rows, axis reg.Register, scale, sin, cos vector, label string) {
	CMPB(r.order, Imm(planes))
	JNE(LabelRef("side" + label))
	l.store(cos, Mem{Base: r.at[0]})
	for i := 1; i < 4; i++ {
		l.store(l.mul(sin, l.same(l.field(axis, i-1))), Mem{Base: r.at[i]})
	}
	for i := range r.at {
		ADDQ(Imm(uint64(l.many*wide)), r.at[i])
	}
	JMP(LabelRef("stored" + label))

	Label("side" + label)
	CMPB(r.order, Imm(wxyz))
	JNE(LabelRef("last" + label))
	l.putSide(r, scale, sin, cos, true)
	JMP(LabelRef("stored" + label))
	Label("last" + label) // xyzw
	l.putSide(r, scale, sin, cos, false)
	Label("stored" + label)
}

// scale is what a rotation's cosine, 1, and its sine, the axis, are multiplied by,
// in the components' order. Singles have it twice.
func (l lanes) scale(axis reg.Register) vector {
	one := l.load(l.float(1))
	a, b, c := l.same(l.field(axis, 0)), l.same(l.field(axis, 1)), l.same(l.field(axis, 2))
	out := l.fresh()
	blend := func(where uint64, y, x vector) {
		if l.bits == 32 {
			VBLENDPS(Imm(where|where<<4), y[0], x[0], out[0])
		} else {
			VBLENDPD(Imm(where), y[0], x[0], out[0])
		}
	}
	CMPB(address("order"), Imm(xyzw))
	JE(LabelRef("scaleLast"))
	blend(0b0010, a, one)
	blend(0b0100, b, out)
	blend(0b1000, c, out)
	JMP(LabelRef("scaled"))
	Label("scaleLast")
	blend(0b0001, a, one)
	blend(0b0010, b, out)
	blend(0b0100, c, out)
	Label("scaled")
	return out
}

// putSide stores rotations whose components are side by side: each takes its
// cosine and sine to where its components lie, and multiplies them by scale there.
func (l lanes) putSide(r rows, scale vector, sin, cos vector, isFirst bool) {
	one := lanes{l.bits, 1}
	for i := range sin {
		if l.bits == 32 {
			one.putSingles(r, scale, sin[i:i+1], cos[i:i+1], isFirst)
		} else {
			one.putDoubles(r, scale, sin[i:i+1], cos[i:i+1], isFirst)
		}
		one.advance(r)
	}
}

func (l lanes) putSingles(r rows, scale vector, sin, cos vector, isFirst bool) {
	// The first and second (cos, sin) of a quarter as cos, sin, sin, sin.
	first, second := order4(0, 1, 1, 1), order4(2, 3, 3, 3)
	if !isFirst {
		first, second = order4(1, 1, 1, 0), order4(3, 3, 3, 2)
	}
	next := GP64()
	LEAQ(Mem{Base: r.at[0], Index: r.everyFour, Scale: 1}, next)
	low, high := r.four(r.at[0]), r.four(next)
	for i, pairs := range []vector{l.even(cos, sin), l.odd(cos, sin)} {
		for j, taken := range []Constant{first, second} {
			q := YMM()
			VPERMILPS(taken, pairs[0], q)
			q = l.mul(vector{q}, scale)[0]
			VMOVUPS(q.AsX(), low[2*i+j])
			VEXTRACTF128(Imm(1), q, high[2*i+j])
		}
	}
}

// order4 is the operand that picks numbers of a quarter vector.
func order4(a, b, c, d uint64) Constant { return Imm(a | b<<2 | c<<4 | d<<6) }

func (l lanes) putDoubles(r rows, scale vector, sin, cos vector, isFirst bool) {
	row := r.four(r.at[0])
	for i, unpack := range []func(x vector, y any) vector{l.even, l.odd} {
		front, back := unpack(cos, sin), unpack(sin, sin)
		if !isFirst {
			front, back = back, unpack(sin, cos)
		}
		q, later := YMM(), YMM()
		VINSERTF128(Imm(1), back[0].AsX(), front[0], q)
		VPERM2F128(Imm(0x31), back[0], front[0], later)
		l.store(l.mul(vector{q}, scale), row[i])
		l.store(l.mul(vector{later}, scale), row[i+2])
	}
}

// identities stores n rotations that turn by nothing.
func (l lanes) identities(r rows) {
	q := YMM()
	one, zero := l.load(l.float(1)), l.load(l.float(0))
	CMPB(address("order"), Imm(planes))
	JNE(LabelRef("identitySide"))
	i := GP64()
	XORQ(i, i)
	Label("identityPlanes")
	l.store(one, Mem{Base: r.at[0], Index: i, Scale: uint8(l.size())})
	for _, at := range r.at[1:] {
		l.store(zero, Mem{Base: at, Index: i, Scale: uint8(l.size())})
	}
	ADDQ(Imm(uint64(l.count())), i)
	CMPQ(i, address("n"))
	JB(LabelRef("identityPlanes"))
	JMP(LabelRef("identityStored"))

	Label("identitySide")
	blend := func(where uint64) {
		if l.bits == 32 {
			VBLENDPS(Imm(where), one[0], zero[0], q)
		} else {
			VBLENDPD(Imm(where), one[0], zero[0], q)
		}
	}
	blend(0b0001)
	CMPB(address("order"), Imm(xyzw))
	JNE(LabelRef("identityOrdered"))
	blend(0b1000)
	Label("identityOrdered")
	left := GP64()
	MOVQ(address("n"), left)
	Label("identity")
	for _, at := range r.four(r.at[0]) {
		if l.bits == 32 {
			VMOVUPS(q.AsX(), at)
		} else {
			VMOVUPD(q, at)
		}
	}
	ADDQ(r.everyFour, r.at[0])
	SUBQ(Imm(4), left)
	JNZ(LabelRef("identity"))
	Label("identityStored")
}
