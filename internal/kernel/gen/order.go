package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
)

// Orders of components, as the kernel numbers them.
const (
	planes = 1
	wxyz   = 2
	xyzw   = 3
	xyz    = 4
)

var orderNames = map[int]string{planes: "Planes", wxyz: "WXYZ", xyzw: "XYZW", xyz: "XYZ"}

// Orders that rotations, those side by side, and directions come in.
var (
	rotations  = []int{planes, wxyz, xyzw}
	sideBySide = []int{wxyz, xyzw}
	directions = []int{planes, xyz}
)

// forOrders emits code for each order that a parameter's lanes may have, and the
// choice between them: the loops in it need not choose again.
func forOrders(label, view string, orders []int, body func(label string, order int)) {
	base := GP64()
	MOVQ(address(view), base)
	for i, order := range orders {
		here := label + orderNames[order]
		isLast := i == len(orders)-1
		if !isLast {
			CMPB(Mem{Base: base, Disp: lanesOrder}, Imm(uint64(order)))
			JNE(LabelRef(here + "Not"))
		}
		body(here, order)
		if !isLast {
			JMP(LabelRef(label + "Done"))
			Label(here + "Not")
		}
	}
	Label(label + "Done")
}
