package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// turn is what a segment's rotations are made of: cosine, and sine times axis.
type turn struct {
	near reg.GPVirtual // an array of sines, and one of cosines behind it
	axis reg.GPVirtual
	flip reg.GPVirtual // a vector of bits: how the axis' signs change
}

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

// turn finds the sines and cosines of a segment, or computes them into the two
// arrays of a slot.
func (l lanes) turn(label string, slot Mem) turn {
	t := turn{GP64(), GP64(), GP64()}
	share, kind := l.nextShare()
	CMPB(kind, Imm(ofTip))
	JA(LabelRef(label + "Turned"))
	l.curve(label, share, kind, func(p pass, sin, cos vector) {
		p.store(sin, p.in(slot, 0).Mem)
		p.store(cos, p.in(slot, 1).Mem)
	})
	LEAQ(slot, t.near)
	MOVQ(address("axis"), t.axis)
	LEAQ(l.bitsOf(0), t.flip)
	JMP(LabelRef(label + "Found"))
	Label(label + "Turned")
	l.find(label, kind, t)
	Label(label + "Found")
	return t
}

// nextShare loads the current segment's.
func (l lanes) nextShare() (share, kind reg.GPVirtual) {
	share, kind = GP64(), GP8()
	MOVQ(address("shares"), share)
	MOVB(l.share(share, 2), kind)
	return share, kind
}

// find is turn for the kinds that are there already.
func (l lanes) find(label string, kind reg.GPVirtual, t turn) {
	MOVQ(address("axis"), t.axis)
	LEAQ(l.bitsOf(0), t.flip)
	CMPB(kind, Imm(still))
	JE(LabelRef(label + "Still"))
	MOVQ(address("tile"), t.near)
	ADDQ(U32(ownSin*l.array()), t.near)
	CMPB(kind, Imm(ownBack))
	JNE(LabelRef(label + "TipAll"))
	LEAQ(l.sign(), t.flip)
	JMP(LabelRef(label + "There"))
	Label(label + "TipAll")
	ADDQ(U32((farSin-ownSin)*l.array()), t.near)
	JMP(LabelRef(label + "There"))
	Label(label + "Still") // no number of it has a sign
	LEAQ(l.rest(), t.near)
	MOVQ(t.near, t.axis)
	Label(label + "There")
}

// curve computes sines and cosines of shares of the twists, as share.halves and
// sincos do.
func (l lanes) curve(label string, share, kind reg.GPVirtual, put func(p pass, sin, cos vector)) {
	tile, factor, near := GP64(), GP64(), GP64()
	own, tip := YMM(), YMM()
	broadcast := l.pick(VBROADCASTSS, VBROADCASTSD)
	solve := func(p pass, half vector) {
		sin, cos := p.sincos(half)
		put(p, sin, cos)
	}
	MOVQ(address("tile"), tile)
	CMPB(kind, Imm(mixed))
	JNE(LabelRef(label + "One"))
	broadcast(l.share(share, 0), own)
	broadcast(l.share(share, 1), tip)
	l.newPass().each(label+"both", byTwo, func(p pass) {
		half, _ := p.wrapHalf(p.add(p.mul(p.alike(own), p.at(tile, 0)), p.mul(p.alike(tip), p.at(tile, farHalf))))
		solve(p, half)
	})
	JMP(LabelRef(label + "Curved"))

	Label(label + "One")
	MOVQ(tile, near)
	MOVQ(share, factor)
	CMPB(kind, Imm(ofTip))
	JNE(LabelRef(label + "Own"))
	ADDQ(U32(farHalf*l.array()), near)
	ADDQ(Imm(uint64(l.size())), factor)
	Label(label + "Own")
	broadcast(Mem{Base: factor}, own)
	l.newPass().each(label+"one", byTwo, func(p pass) {
		solve(p, p.mul(p.alike(own), p.at(near, 0)))
	})
	Label(label + "Curved")
}
