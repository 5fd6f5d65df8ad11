package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// pass is a loop over a tile.
type pass struct {
	lanes
	i    reg.GPVirtual // numbers done
	last reg.GPVirtual // what that is when the last whole round starts
}

func (l lanes) newPass() pass { return pass{l, GP64(), GP64()} }

// at is where the current numbers of one of the arrays from an address on lie.
func (p pass) at(base reg.Register, array int) run { return p.in(Mem{Base: base}, array) }

// in is at for arrays from any place on.
func (p pass) in(start Mem, array int) run {
	return run{Mem{Base: start.Base, Index: p.i, Scale: uint8(p.size()), Disp: start.Disp + array*p.array()}}
}

// each emits the loop over n numbers, for several vectors side by side as long as
// there are so many and then for one at a time.
func (p pass) each(label string, many []int, body func(p pass)) {
	XORQ(p.i, p.i)
	for _, p.many = range many {
		here, end := label+digit(p.many), label+digit(p.many)+"End"
		step := Imm(uint64(p.many * p.count()))
		MOVQ(address("n"), p.last)
		SUBQ(step, p.last)
		CMPQ(p.i, p.last)
		JG(LabelRef(end))
		Label(here)
		body(p)
		ADDQ(step, p.i)
		CMPQ(p.i, p.last)
		JLE(LabelRef(here))
		Label(end)
	}
}

func digit(n int) string { return string(rune('0' + n)) }

// by are how many vectors go side by side: registers do not serve for more.
var (
	byOne = []int{1}
	byTwo = []int{2, 1}
)
