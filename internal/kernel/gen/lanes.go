package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// lanes emits arithmetic on whole vectors of one precision. Each operation takes a
// register, and a register or memory, and leaves its result in a new register:
// code reads like the Go code that it must equal bit for bit. Nothing here may
// fuse a product with a sum.
//
// Several vectors can go side by side, instruction by instruction: a long chain of
// sums waits for each, and meanwhile the next vector's can be under way.
type lanes struct {
	bits int // of a number: 32 or 64
	many int // vectors that go side by side
}

// vector is a register, or as many as go side by side.
type vector []reg.VecVirtual

// run is memory that holds as many vectors as go side by side.
type run struct{ Mem }

// fresh are new registers.
func (l lanes) fresh() vector {
	out := make(vector, l.many)
	for i := range out {
		out[i] = YMM()
	}
	return out
}

// freshFour are those of a rotation.
func (l lanes) freshFour() [4]vector { return [4]vector{l.fresh(), l.fresh(), l.fresh(), l.fresh()} }

// member is what one of the vectors side by side takes of an operand: its own
// register or part of a run; other memory serves all.
func member(x any, i int) Op {
	switch x := x.(type) {
	case vector:
		return x[i]
	case run:
		return x.Offset(i * wide)
	}
	return x.(Op)
}

// wide is the bytes in a vector.
const wide = 32

// tile is how many numbers an array of the kernel's tile has.
const tile = 64

func (l lanes) size() int  { return l.bits / 8 }
func (l lanes) count() int { return wide / l.size() } // numbers in a vector

// array is the bytes in an array of the kernel's tile.
func (l lanes) array() int { return tile * l.size() }

// name gives a function's name for the precision.
func (l lanes) name(s string) string {
	if l.bits == 32 {
		return s + "32"
	}
	return s + "64"
}

type instruction = func(ops ...Op)

func (l lanes) pick(single, double instruction) instruction {
	if l.bits == 32 {
		return single
	}
	return double
}

func (l lanes) two(single, double instruction, x vector, y any) vector {
	out := l.fresh()
	for i := range out {
		l.pick(single, double)(member(y, i), x[i], out[i])
	}
	return out
}

func (l lanes) add(x vector, y any) vector  { return l.two(VADDPS, VADDPD, x, y) }
func (l lanes) sub(x vector, y any) vector  { return l.two(VSUBPS, VSUBPD, x, y) }
func (l lanes) mul(x vector, y any) vector  { return l.two(VMULPS, VMULPD, x, y) }
func (l lanes) div(x vector, y any) vector  { return l.two(VDIVPS, VDIVPD, x, y) }
func (l lanes) xor(x vector, y any) vector  { return l.two(VXORPS, VXORPD, x, y) }
func (l lanes) and(x vector, y any) vector  { return l.two(VANDPS, VANDPD, x, y) }
func (l lanes) or(x vector, y any) vector   { return l.two(VORPS, VORPD, x, y) }
func (l lanes) even(x vector, y any) vector { return l.two(VUNPCKLPS, VUNPCKLPD, x, y) }
func (l lanes) odd(x vector, y any) vector  { return l.two(VUNPCKHPS, VUNPCKHPD, x, y) }

// without is x with the bits of mask cleared.
func (l lanes) without(x any, mask vector) vector { return l.two(VANDNPS, VANDNPD, mask, x) }

// least is `if x > y { x = y }`, most `if x < y { x = y }`: like them they keep x,
// with its sign, where the two are equal. That takes x as the second operand.
func (l lanes) least(x vector, y any) vector {
	return l.two(VMINPS, VMINPD, l.load(y), x)
}

func (l lanes) most(x vector, y any) vector {
	return l.two(VMAXPS, VMAXPD, l.load(y), x)
}

func (l lanes) sqrt(x any) vector {
	out := l.fresh()
	for i := range out {
		l.pick(VSQRTPS, VSQRTPD)(member(x, i), out[i])
	}
	return out
}

// load brings what is not in a register yet.
func (l lanes) load(x any) vector {
	if r, ok := x.(vector); ok {
		return r
	}
	out := l.fresh()
	l.copy(x, out)
	return out
}

// copy is load into registers that are there.
func (l lanes) copy(x any, out vector) {
	for i := range out {
		l.pick(VMOVUPS, VMOVUPD)(member(x, i), out[i])
	}
}

func (l lanes) store(x vector, at Mem) {
	for i := range x {
		l.pick(VMOVUPS, VMOVUPD)(x[i], at.Offset(i*wide))
	}
}

// same fills a vector, the same for all that go side by side, with the number at
// one place.
func (l lanes) same(at Mem) vector {
	one := YMM()
	if l.bits == 32 {
		VBROADCASTSS(at, one)
	} else {
		VBROADCASTSD(at, one)
	}
	return l.alike(one)
}

// alike is a register that serves all that go side by side. It is for reading.
func (l lanes) alike(one reg.VecVirtual) vector {
	out := make(vector, l.many)
	for i := range out {
		out[i] = one
	}
	return out
}

// Predicates of comparisons, all false for NaN (Intel's manual, VCMPPD).
const (
	equal        = 0x00
	less         = 0x11
	greaterEqual = 0x1d
	greater      = 0x1e
)

// compare gives a mask: all bits of a lane are set where x has the relation to y.
func (l lanes) compare(x vector, relation int, y any) vector {
	out := l.fresh()
	for i := range out {
		l.pick(VCMPPS, VCMPPD)(Imm(uint64(relation)), member(y, i), x[i], out[i])
	}
	return out
}

// signs gives a bit for each lane of a vector: its sign.
func (l lanes) signs(x vector, out reg.GPVirtual) {
	if l.bits == 32 {
		VMOVMSKPS(x[0], out)
	} else {
		VMOVMSKPD(x[0], out)
	}
}
