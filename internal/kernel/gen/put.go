package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
)

// Loops that store a segment's rotations (cos, sin axis). Where components are side
// by side each rotation takes its cosine and sine to where its components lie, and
// multiplies them there by 1 and the axis: its scale.

// axisOf are the components of a turn's axis, each as a vector.
func (l lanes) axisOf(t turn) (a [3]vector) {
	for i := range a {
		a[i] = l.xor(l.same(Mem{Base: t.axis, Disp: i * l.size()}), Mem{Base: t.flip})
	}
	return a
}

// scale has the numbers of a rotation once, or of singles twice.
func (l lanes) scale(order int, t turn) vector {
	a, out := l.axisOf(t), l.load(l.float(1))
	first := 0
	if order == wxyz {
		first = 1
	}
	for i, component := range a {
		where := uint64(1 << (first + i))
		if l.bits == 32 {
			VBLENDPS(Imm(where|where<<4), component[0], out[0], out[0])
		} else {
			VBLENDPD(Imm(where), component[0], out[0], out[0])
		}
	}
	return out
}

// putPlanes stores a segment without a slot between: stores are what planes take
// most of.
func (l lanes) putPlanes(label string) {
	r, axis := newRows("lanes", "offset", rotation, planes), GP64()
	MOVQ(address("axis"), axis)
	share, kind := l.nextShare()
	CMPB(kind, Imm(ofTip))
	JA(LabelRef(label + "Turned"))
	l.curve(label, share, kind, func(p pass, sin, cos vector) {
		p.store(cos, p.component(r, 0))
		for i := range 3 { // registers are few
			p.store(p.mul(sin, p.same(p.field(axis, i))), p.component(r, i+1))
		}
	})
	JMP(LabelRef("stored"))
	Label(label + "Turned")
	t := turn{GP64(), GP64(), GP64()}
	l.find(label, kind, t)
	a := l.axisOf(t)
	l.newPass().each(label, byOne, func(p pass) {
		p.store(p.load(p.at(t.near, 1)), p.component(r, 0))
		sin := p.load(p.at(t.near, 0))
		for i := range a {
			p.store(p.mul(sin, a[i]), p.component(r, i+1))
		}
	})
}

// putDoubles loads cosines and sines in the order of the rotations' halves.
func (l lanes) putDoubles(label string, order int, t turn) {
	r, scale := newRows("lanes", "offset", rotation, order), l.scale(order, t)
	l.newPass().each(label, byOne, func(p pass) {
		row := r.four(r.at[0])
		for i := 0; i < 4; i += 2 {
			sin, cos := p.at(t.near, 0).Offset(i*8), p.at(t.near, 1).Offset(i*8)
			front, back := halves(cos, sin), twice(sin) // c s, s s
			if order == xyzw {
				front, back = back, halves(sin, cos) // s s, s c
			}
			p.store(p.mul(p.even(front, back), scale), row[i])
			p.store(p.mul(p.odd(front, back), scale), row[i+1])
		}
		p.advance(r)
	})
}

// picks are how rotations take a cosine and sine from (cos, sin) of two of them.
func picks(order int) [2]Constant {
	if order == wxyz {
		return [2]Constant{order4(0, 1, 1, 1), order4(2, 3, 3, 3)}
	}
	return [2]Constant{order4(1, 1, 1, 0), order4(3, 3, 3, 2)}
}

// fours are four rotations in each half of a vector.
func (l lanes) fours(order int, sin, cos, scale vector) (q [4]vector) {
	for i, pairs := range []vector{l.even(cos, sin), l.odd(cos, sin)} {
		for j, pick := range picks(order) {
			taken := l.fresh()
			VPERMILPS(pick, pairs[0], taken[0])
			q[2*i+j] = l.mul(taken, scale)
		}
	}
	return q
}

func (l lanes) putSingles(label string, order int, t turn) {
	r, scale := newRows("lanes", "offset", rotation, order), l.scale(order, t)
	l.newPass().each(label, byOne, func(p pass) {
		low, high := r.eight()
		for i, q := range p.fours(order, p.load(p.at(t.near, 0)), p.load(p.at(t.near, 1)), scale) {
			putHalves(q, low[i], high[i])
		}
		p.advance(r)
	})
}

// putTwo stores segments that lie next to each other, both of a limb at once.
func (l lanes) putTwo(label string, order int, first, second turn) {
	r := newRows("lanes", "offset", rotation, order)
	scale := l.scale(order, first)
	VBLENDPS(Imm(0xf0), l.scale(order, second)[0], scale[0], scale[0])
	l.newPass().each(label, byOne, func(p pass) {
		low, high := r.eight()
		for half, row := range [][4]Mem{low, high} {
			both := func(array int) vector {
				return halves(p.at(first.near, array).Offset(half*16), p.at(second.near, array).Offset(half*16))
			}
			for i, q := range p.fours(order, both(0), both(1), scale) {
				p.store(q, row[i])
			}
		}
		p.advance(r)
	})
}
