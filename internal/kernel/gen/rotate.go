package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
)

// rotate is the kernel's Law.rotate for some segments.
func (l lanes) rotate() {
	TEXT(l.name("rotate"), 0,
		"func(lanes *byte, offset, segment, n uintptr, tile, axis, shares *byte, segments uintptr)")
	Doc(l.name("rotate")+" stores n rotations, a multiple of the vector's lanes, of each of some segments,",
		"which are segment bytes from one another.")
	Pragma("noescape")
	slots := newScratch(4 * l.array())
	Label("segment")
	view := Load(Param("lanes"), GP64())
	CMPB(Mem{Base: view, Disp: lanesOrder}, Imm(planes))
	JNE(LabelRef("side"))
	l.putPlanes("planes")
	JMP(LabelRef("stored"))
	Label("side")
	first := l.turn("first", slots)
	if l.bits == 32 {
		CMPQ(address("segments"), Imm(2))
		JB(LabelRef("alone"))
		CMPQ(address("segment"), Imm(wide/2))
		JNE(LabelRef("alone"))
		ADDQ(Imm(uint64(shareNumbers*l.size())), address("shares"))
		second := l.turn("second", slots.Offset(2*l.array()))
		forOrders("two", "lanes", sideBySide, func(label string, order int) {
			l.putTwo(label, order, first, second)
		})
		l.skipSegment()
		DECQ(address("segments"))
		JMP(LabelRef("stored"))
		Label("alone")
	}
	forOrders("put", "lanes", sideBySide, func(label string, order int) {
		if l.bits == 32 {
			l.putSingles(label, order, first)
		} else {
			l.putDoubles(label, order, first)
		}
	})
	Label("stored")
	l.skipSegment()
	ADDQ(Imm(uint64(shareNumbers*l.size())), address("shares"))
	DECQ(address("segments"))
	JNE(LabelRef("segment"))
	VZEROUPPER()
	RET()
}

// skipSegment goes on to the next segment's rotations.
func (l lanes) skipSegment() {
	step := GP64()
	MOVQ(address("segment"), step)
	ADDQ(step, address("offset"))
}
