package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// Orders of a rotation's components, as the kernel numbers them.
const (
	planes = 1
	wxyz   = 2
	xyzw   = 3
	xyz    = 4 // directions
)

// rows are the addresses of rotations whose components are side by side. Of
// planes the four addresses are the components', and they advance alike.
type rows struct {
	at        [4]reg.GPVirtual
	step      reg.GPVirtual // bytes from one to the next
	thrice    reg.GPVirtual
	everyFour reg.GPVirtual
	order     Mem
}

// components are parameters' names behind their prefix.
var components = [4]string{"w", "x", "y", "z"}

// newRows loads the parameters w, x, y, z and step, with a prefix. With components
// side by side the first address is that of the first component.
func newRows(prefix string) rows {
	r := rows{step: GP64(), thrice: GP64(), everyFour: GP64(), order: address(prefix + "order")}
	for i, name := range components {
		r.at[i] = GP64()
		MOVQ(address(prefix+name), r.at[i])
	}
	CMPB(r.order, Imm(xyzw))
	CMOVQCC(r.at[1], r.at[0]) // xyz too
	MOVQ(address(prefix+"step"), r.step)
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

// advance goes on to the next vector's worth of rotations.
func (l lanes) advance(r rows) {
	LEAQ(Mem{Base: r.at[0], Index: r.everyFour, Scale: uint8(l.count() / 4)}, r.at[0])
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

// fetch reads one vector's worth of rotations, of whatever order, as w, x, y, z and
// advances. The branches are the same all along a batch.
func (l lanes) fetch(r rows, label string) (q [4]vector) {
	for i := range q {
		q[i] = l.fresh()
	}
	CMPB(r.order, Imm(planes))
	JNE(LabelRef(label + "Side"))
	for i := range q {
		l.copy(Mem{Base: r.at[i]}, q[i])
	}
	for i := range q {
		ADDQ(Imm(wide), r.at[i])
	}
	JMP(LabelRef(label + "Fetched"))

	Label(label + "Side")
	var c [4][2]vector // pairs of which each component is the interleaved half
	if l.bits == 32 {
		c = l.singles(r)
	} else {
		c = l.doubles(r)
	}
	l.advance(r)
	CMPB(r.order, Imm(wxyz))
	JNE(LabelRef(label + "Last"))
	interleave(c, q)
	JMP(LabelRef(label + "Fetched"))
	Label(label + "Last") // xyzw
	interleave(c, [4]vector{q[1], q[2], q[3], q[0]})
	Label(label + "Fetched")
	return q
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
	next := GP64()
	LEAQ(Mem{Base: r.at[0], Index: r.everyFour, Scale: 1}, next)
	low, high := r.four(r.at[0]), r.four(next)
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
	out := YMM()
	VBROADCASTF128(low, out)
	VINSERTF128(Imm(1), high, out, out)
	return vector{out}
}
