package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// swingBox is the place of the table's X, Y and PerStep in the kernel's Swing; the
// table starts at a multiple of 8 bytes.
func (l lanes) swingBox() int {
	if l.bits == 32 {
		return swingRest + 2
	}
	return swingRest + 1
}

// box is the table of a swing's correction.
func (l lanes) box(swing reg.Register) box {
	at := l.swingBox()
	return box{
		least:   [2]Mem{l.field(swing, at), l.field(swing, at+1)},
		perStep: l.field(swing, at+2),
		cells:   [2]Mem{address("nx"), address("ny")},
		row:     address("row"),
	}
}

// correct is Swing.correction from the place on, and undo.
func (l lanes) correct(swing, turns reg.Register, scratch scratch) {
	l.newPass().each("locate", byOne, func(p pass) {
		u, v := p.in(scratch.places, 0), p.in(scratch.places, 1)
		first, s, t, inside := p.locate(l.box(swing), p.load(u), p.load(v))
		VMOVDQU(first, p.cells(scratch))
		p.store(inside, p.in(scratch.masks, 0).Mem)
		p.store(s, u.Mem)
		p.store(t, v.Mem)
	})
	l.newPass().each("sum", byOne, func(p pass) {
		s, t := p.in(scratch.places, 0), p.in(scratch.places, 1)
		found := p.sum(p.cells(scratch), p.load(s), p.load(t), scratch.across)
		found = p.and(found, p.in(scratch.masks, 0))
		chi, _ := p.wrapHalf(p.sub(p.mul(found, p.float(0.5)), p.same(p.field(swing, swingRest))))
		p.store(chi, s.Mem)
	})
	l.newPass().each("undo", byTwo, func(p pass) {
		p.undo(p.in(scratch.places, 0), p.at(turns, 0), p.at(turns, 1), p.at(turns, 2))
	})
}

// cells is where the current cells' numbers lie.
func (p pass) cells(s scratch) Mem {
	return Mem{Base: s.cells.Base, Disp: s.cells.Disp, Index: p.i, Scale: 4}
}

// undo is the function of that name, in place.
func (l lanes) undo(chi, half, sin, cos run) {
	sinChi, cosChi := l.sincos(l.load(chi))
	s := l.sub(l.mul(cosChi, sin), l.mul(sinChi, cos))
	c := l.add(l.mul(cosChi, cos), l.mul(sinChi, sin))
	turn, turned := l.wrapHalf(l.sub(l.load(half), chi))
	flip := l.and(turned, l.sign())
	l.store(turn, half.Mem)
	l.store(l.xor(s, flip), sin.Mem)
	l.store(l.most(l.xor(c, flip), l.float(0)), cos.Mem)
}
