package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// rows are the addresses of rotations or directions of one order: of planes the
// components', otherwise that of the first number of the current one.
type rows struct {
	order     int
	at        []reg.GPVirtual
	step      reg.GPVirtual // bytes from one to the next
	thrice    reg.GPVirtual
	everyFour reg.GPVirtual
}

// rotation and direction are what the kernel's lanes have of them: components, by
// their order in it. Behind four of them come the step and the order.
var (
	rotation  = []int{0, 1, 2, 3}
	direction = []int{1, 2, 3}
)

const (
	lanesStep  = 4 * 8
	lanesOrder = 5 * 8
)

// newRows loads what an order takes of a parameter that is lanes, from so many bytes
// on.
func newRows(view, offset string, components []int, order int) rows {
	r, base := rows{order: order}, GP64()
	MOVQ(address(view), base)
	switch order {
	case wxyz:
		components = []int{0}
	case xyzw, xyz:
		components = []int{1}
	}
	for _, c := range components {
		at := GP64()
		MOVQ(Mem{Base: base, Disp: c * 8}, at)
		ADDQ(address(offset), at)
		r.at = append(r.at, at)
	}
	if order == planes {
		return r
	}
	r.step, r.thrice, r.everyFour = GP64(), GP64(), GP64()
	MOVQ(Mem{Base: base, Disp: lanesStep}, r.step)
	LEAQ(Mem{Base: r.step, Index: r.step, Scale: 2}, r.thrice)
	MOVQ(r.step, r.everyFour)
	SHLQ(Imm(2), r.everyFour)
	return r
}

// address is where a parameter lies. Those seldom read stay there: registers are few.
func address(parameter string) Mem {
	p, err := Param(parameter).Resolve()
	if err != nil {
		panic(err)
	}
	return p.Addr
}

// component is where the current numbers of a plane are.
func (p pass) component(r rows, i int) Mem {
	return Mem{Base: r.at[i], Index: p.i, Scale: uint8(p.size())}
}

// advance goes on to the next vector's worth of rotations side by side.
func (l lanes) advance(r rows) {
	LEAQ(Mem{Base: r.at[0], Index: r.everyFour, Scale: uint8(l.count() / 4)}, r.at[0])
}

// advanceUnlessLast stays where nothing follows.
func (p pass) advanceUnlessLast(r rows) {
	next := GP64()
	LEAQ(Mem{Base: r.at[0], Index: r.everyFour, Scale: uint8(p.count() / 4)}, next)
	CMPQ(p.i, p.last)
	CMOVQLT(next, r.at[0])
}

// four are the places of rotations next to one another, the first of them at base.
func (r rows) four(base reg.Register) [4]Mem {
	return [4]Mem{
		{Base: base},
		{Base: base, Index: r.step, Scale: 1},
		{Base: base, Index: r.step, Scale: 2},
		{Base: base, Index: r.thrice, Scale: 1},
	}
}

// eight are the places of twice as many.
func (r rows) eight() (low, high [4]Mem) {
	next := GP64()
	LEAQ(Mem{Base: r.at[0], Index: r.everyFour, Scale: 1}, next)
	return r.four(r.at[0]), r.four(next)
}

// ahead gives the code that a loop over r begins its rounds with, and that which it
// has where it needs no more of what read has read. Numbers side by side take long to
// come and to be sorted into components: these are read a round ahead, the first here.
func (p pass) ahead(r rows, read func()) (begin, next func()) {
	if r.order == planes {
		return read, func() {}
	}
	read()
	return func() {}, func() {
		p.advanceUnlessLast(r)
		read()
	}
}

// fetch reads one vector's worth of rotations as w, x, y, z.
func (p pass) fetch(r rows, q [4]vector) {
	var c [4][2]vector // pairs of which each component is the interleaved half
	switch {
	case r.order == planes:
		for i := range q {
			p.copy(p.component(r, i), q[i])
		}
		return
	case p.bits == 32:
		c = p.singles(r)
	default:
		c = p.doubles(r)
	}
	interleave(c, ordered(r.order, q))
}

// interleave is the last step of the transposition.
func interleave(c [4][2]vector, q [4]vector) {
	VUNPCKLPD(c[0][1][0], c[0][0][0], q[0][0])
	VUNPCKHPD(c[1][1][0], c[1][0][0], q[1][0])
	VUNPCKLPD(c[2][1][0], c[2][0][0], q[2][0])
	VUNPCKHPD(c[3][1][0], c[3][0][0], q[3][0])
}

// singles reads eight rotations, those four apart in halves of a vector.
func (l lanes) singles(r rows) [4][2]vector {
	low, high := r.eight()
	var row [4]vector
	for i := range row {
		row[i] = halves(low[i], high[i])
	}
	front := [2]vector{l.even(row[0], row[1]), l.even(row[2], row[3])}
	back := [2]vector{l.odd(row[0], row[1]), l.odd(row[2], row[3])}
	return [4][2]vector{front, front, back, back}
}

// doubles reads four rotations, those two apart in halves of a vector.
func (l lanes) doubles(r rows) [4][2]vector {
	row := r.four(r.at[0])
	back := row
	for i := range back {
		back[i] = back[i].Offset(wide / 2)
	}
	front := [2]vector{halves(row[0], row[2]), halves(row[1], row[3])}
	end := [2]vector{halves(back[0], back[2]), halves(back[1], back[3])}
	return [4][2]vector{front, front, end, end}
}

// halves makes a vector of two places. The low half is broadcast, for avo takes
// a vector for unset where only its low half is written.
func halves(low, high Mem) vector {
	out := twice(low)
	VINSERTF128(Imm(1), high, out[0], out[0])
	return out
}

// twice makes a vector of one place for both halves.
func twice(at Mem) vector {
	out := YMM()
	VBROADCASTF128(at, out)
	return vector{out}
}
