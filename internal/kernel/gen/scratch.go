package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
)

// newScratch makes room on the stack from the start of a cache's line on: vectors
// that lie across two lines are slow, and the stack is aligned to less.
func newScratch(size int) Mem {
	const line = 64
	local := AllocLocal(size + line)
	base := GP64()
	LEAQ(local.Offset(line-1), base)
	ANDQ(I8(-line), base)
	return Mem{Base: base}
}

// scratch is what twists keeps there.
type scratch struct {
	constants Mem // Swing's first numbers, each as a vector: registers are few
	across    Mem // the weights of a vector's cells in one direction
	places    Mem // two arrays, of the two directions in the table
	masks     Mem // an array, of those that are in the table
	cells     Mem // an array of int32: first coefficients
}

func (l lanes) newScratch() scratch {
	constants := newScratch(swingOrdinary*wide + 4*wide + 3*l.array() + tile*4)
	s := scratch{constants: constants}
	s.across = s.constants.Offset(swingOrdinary * wide)
	s.places = s.across.Offset(4 * wide)
	s.masks = s.places.Offset(2 * l.array())
	s.cells = s.masks.Offset(l.array())
	return s
}
