package main

import (
	"github.com/mmcloughlin/avo/attr"
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
)

// fetchDirections reads one vector's worth of directions as x, y, z and advances. It
// touches nothing beyond the last component of the last.
func (p pass) fetchDirections(r rows) (d [3]vector) {
	for i := range d {
		d[i] = p.fresh()
	}
	if r.order == planes {
		for i := range d {
			p.copy(p.component(r, i), d[i])
		}
		return d
	}
	if p.bits == 32 {
		p.singleDirections(r, d)
	} else {
		p.doubleDirections(r, d)
	}
	p.advance(r)
	return d
}

// singleDirections reads four numbers for three: the fourth is the next
// direction's or lies between them. The last of all has none behind it, so it is
// read from the number before it on.
func (l lanes) singleDirections(r rows, d [3]vector) {
	low, high := r.eight()
	var row [4]vector
	for i := range row[:3] {
		row[i] = halves(low[i], high[i])
	}
	shifted := halves(low[3], high[3].Offset(-4))
	row[3] = l.fresh()
	VPERMILPS(upperShift(), shifted[0], row[3][0])
	front := [2]vector{l.even(row[0], row[1]), l.even(row[2], row[3])}
	back := [2]vector{l.odd(row[0], row[1]), l.odd(row[2], row[3])}
	VUNPCKLPD(front[1][0], front[0][0], d[0][0])
	VUNPCKHPD(front[1][0], front[0][0], d[1][0])
	VUNPCKLPD(back[1][0], back[0][0], d[2][0])
}

// upperShift are the indices that leave a vector's lower half and move the upper
// one's numbers down by one.
func upperShift() Mem {
	const name = "upperShift"
	if at, ok := numbers[name]; ok {
		return at
	}
	at := GLOBL(name, attr.RODATA|attr.NOPTR)
	for i, index := range []uint32{0, 1, 2, 3, 1, 2, 3, 3} {
		DATA(i*4, U32(index))
	}
	numbers[name] = at
	return at
}

func (l lanes) doubleDirections(r rows, d [3]vector) {
	row := r.four(r.at[0])
	front := [2]vector{halves(row[0], row[2]), halves(row[1], row[3])}
	VUNPCKLPD(front[1][0], front[0][0], d[0][0])
	VUNPCKHPD(front[1][0], front[0][0], d[1][0])
	l.copy(l.same(row[0].Offset(16)), d[2])
	for i := 1; i < 4; i++ {
		VBLENDPD(Imm(1<<i), l.same(row[i].Offset(16))[0], d[2][0], d[2][0])
	}
}
