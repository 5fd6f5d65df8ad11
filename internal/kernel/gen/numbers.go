package main

import (
	"fmt"
	"go/constant"
	"go/token"
	"math"

	"github.com/mmcloughlin/avo/attr"
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
)

// Numbers lie in read-only data as whole vectors, so that they are operands.
var numbers = map[string]Mem{}

// number is a constant in each lane, rounded once as the Go compiler does.
func (l lanes) number(v constant.Value) Mem {
	if l.bits == 32 {
		f, _ := constant.Float32Val(constant.ToFloat(v))
		return l.bitsOf(uint64(math.Float32bits(f)))
	}
	f, _ := constant.Float64Val(constant.ToFloat(v))
	return l.bitsOf(math.Float64bits(f))
}

func (l lanes) float(x float64) Mem { return l.number(constant.MakeFloat64(x)) }

// ratio is the untyped constant a/b.
func (l lanes) ratio(a, b int64) Mem {
	return l.number(constant.BinaryOp(constant.MakeInt64(a), token.QUO, constant.MakeInt64(b)))
}

// pi and halfPi are as exact as the Go literals they stand for.
var (
	pi     = constant.MakeFromLiteral("3.14159265358979323846264338327950288419716939937510582097494459", token.FLOAT, 0)
	halfPi = constant.BinaryOp(pi, token.QUO, constant.MakeInt64(2))
)

// sign is the sign bit in each lane.
func (l lanes) sign() Mem { return l.bitsOf(1 << (l.bits - 1)) }

// bitsOf is a bit pattern in each lane.
func (l lanes) bitsOf(pattern uint64) Mem {
	name := fmt.Sprintf("each%d_%x", l.bits, pattern)
	if at, ok := numbers[name]; ok {
		return at
	}
	at := GLOBL(name, attr.RODATA|attr.NOPTR)
	for i := range l.count() {
		if l.bits == 32 {
			DATA(i*4, U32(pattern))
		} else {
			DATA(i*8, U64(pattern))
		}
	}
	numbers[name] = at
	return at
}

// rest are a tile's array of zeros, sines of no turn, and of ones, its cosines.
func (l lanes) rest() Mem {
	name := l.name("rest")
	if at, ok := numbers[name]; ok {
		return at
	}
	at := GLOBL(name, attr.RODATA|attr.NOPTR)
	ones := U64(math.Float64bits(1))
	if l.bits == 32 {
		ones = U64(uint64(math.Float32bits(1))<<32 | uint64(math.Float32bits(1)))
	}
	for i := l.array(); i < 2*l.array(); i += 8 { // what is not set is 0
		DATA(i, ones)
	}
	numbers[name] = at
	return at
}
