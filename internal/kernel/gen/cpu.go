package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// hasAVX2 tells whether the processor has AVX2 and the system keeps its registers
// (Intel's manual, volume 1, "Detection of Intel AVX2").
func hasAVX2() {
	TEXT("hasAVX2", NOSPLIT, "func() bool")
	Doc("hasAVX2 tells whether the processor has AVX2 and the system keeps its registers.")
	const (
		osxsave, avx = 1 << 27, 1 << 28
		kept         = 2 | 4 // the lower and upper halves of vectors
	)
	leaf := func(n uint32) {
		MOVL(U32(n), reg.EAX)
		XORL(reg.ECX, reg.ECX)
		CPUID()
	}
	leaf(0)
	CMPL(reg.EAX, Imm(7))
	JL(LabelRef("no"))
	leaf(1)
	ANDL(U32(osxsave|avx), reg.ECX)
	CMPL(reg.ECX, U32(osxsave|avx))
	JNE(LabelRef("no"))
	XORL(reg.ECX, reg.ECX)
	XGETBV()
	ANDL(Imm(kept), reg.EAX)
	CMPL(reg.EAX, Imm(kept))
	JNE(LabelRef("no"))
	leaf(7)
	SHRL(Imm(5), reg.EBX)
	ANDL(Imm(1), reg.EBX)
	Store(reg.BL, ReturnIndex(0))
	RET()
	Label("no")
	XORL(reg.EBX, reg.EBX)
	Store(reg.BL, ReturnIndex(0))
	RET()
}
