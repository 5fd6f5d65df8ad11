// Command gen writes the kernel's assembly. Every function does what a plain pass
// of the kernel does, operation by operation, on 8 float32 or 4 float64 at a time;
// the kernel's tests hold both to the same bits, which also is what checks that
// the few numbers and offsets named here agree with the kernel's.
package main

import (
	. "github.com/mmcloughlin/avo/build"
)

func main() {
	ConstraintExpr("!purego")
	hasAVX2()
	for _, l := range []lanes{{32, 1}, {64, 1}} {
		l.twists()
		l.rotate()
		l.turns()
		l.finish()
	}
	Generate()
}
