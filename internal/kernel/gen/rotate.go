package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// Kinds of shares, as the kernel numbers them.
const (
	mixed   = 0
	ofTip   = 2
	ownBack = 3
	still   = 5
)

// Arrays of the kernel's tile by their order in it.
const (
	ownSin  = 1
	farHalf = 3
	farSin  = 4
)

// share is the place of one of the numbers of the kernel's share: own, tip, kind.
func (l lanes) share(base reg.Register, index int) Mem {
	return Mem{Base: base, Disp: index * l.size()}
}

const shareNumbers = 3 // with kind and what fills it up

// rotate is the kernel's Law.rotate for some segments.
func (l lanes) rotate() {
	TEXT(l.name("rotate"), NOSPLIT,
		"func(w, x, y, z *byte, step, segment, n uintptr, order uint8, tile, axis, shares *byte, segments uintptr)")
	Doc(l.name("rotate")+" stores n rotations, a multiple of the vector's lanes, of each of some segments,",
		"which are segment bytes from one another.")
	Pragma("noescape")
	axis := Load(Param("axis"), GP64())
	scale := l.scale(axis)

	Label("segment")
	r := newRows("")
	share, kind, near, factor := GP64(), GP8(), GP64(), GP64()
	MOVQ(address("shares"), share)
	MOVB(l.share(share, 2), kind)
	CMPB(kind, Imm(still))
	JE(LabelRef("still"))
	flip := l.load(l.float(0))
	l.choose(share, kind, near, factor, flip)
	l.newPass().each("next", byTwo, func(l pass, label string) {
		sin, cos, half := l.fresh(), l.fresh(), l.fresh()
		CMPB(kind, Imm(ofTip))
		JA(LabelRef(label + "Turned"))
		l.copy(l.mul(l.same(Mem{Base: factor}), l.at(near, 0)), half)
		CMPB(kind, Imm(mixed))
		JNE(LabelRef(label + "Halves"))
		tip := GP64()
		MOVQ(address("shares"), tip)
		both := l.mul(l.same(l.lanes.share(tip, 1)), l.at(near, farHalf))
		both, _ = l.wrapHalf(l.add(half, both))
		l.copy(both, half)
		Label(label + "Halves")
		s, c := l.sincos(half)
		l.copy(s, sin)
		l.copy(c, cos)
		JMP(LabelRef(label + "Found"))

		Label(label + "Turned")
		l.copy(l.xor(l.alike(flip[0]), l.at(near, 0)), sin)
		l.copy(l.at(near, 1), cos)
		Label(label + "Found")
		l.put(r, axis, scale, sin, cos, label)
	})
	JMP(LabelRef("done"))

	Label("still")
	l.identities(r)
	Label("done")
	step := GP64()
	MOVQ(address("segment"), step)
	for _, name := range components {
		ADDQ(step, address(name))
	}
	ADDQ(Imm(uint64(shareNumbers*l.size())), address("shares"))
	DECQ(address("segments"))
	JNZ(LabelRef("segment"))
	VZEROUPPER()
	RET()
}

// choose finds the half twists or the sines that a kind takes, the factor of the
// first and the sign of the second.
func (l lanes) choose(share, kind, near, factor reg.GPVirtual, flip vector) {
	MOVQ(address("tile"), near)
	MOVQ(share, factor)
	CMPB(kind, Imm(ofTip))
	JB(LabelRef("chosen"))
	JNE(LabelRef("chooseTurn"))
	ADDQ(U32(farHalf*l.array()), near)
	ADDQ(Imm(uint64(l.size())), factor)
	JMP(LabelRef("chosen"))
	Label("chooseTurn")
	ADDQ(U32(ownSin*l.array()), near)
	CMPB(kind, Imm(ownBack))
	JNE(LabelRef("chooseTip"))
	l.copy(l.sign(), flip)
	JMP(LabelRef("chosen"))
	Label("chooseTip") // tipAll
	ADDQ(U32((farSin-ownSin)*l.array()), near)
	Label("chosen")
}
