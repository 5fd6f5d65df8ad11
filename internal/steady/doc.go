// Package steady is arithmetic that gives the same bits on every processor, for
// what is prepared once per limb: in a networked game every machine has to
// prepare the same numbers.
//
// Three things differ from processor to processor otherwise. Go may fuse a
// product and a sum into one rounding, and does on arm64, riscv64, s390x, ppc64
// and with GOAMD64=v3, unless the product is converted, float64(x*y) (Go language
// specification, "Floating-point operators"); package gonum's vectors and
// quaternions do not convert. Package math has sines, arc tangents and
// hypotenuses in assembly for some processors, and in Go that may be fused for
// the others. And gonum's BLAS sums in another order where it has assembly. Sums,
// differences, products, quotients and square roots alone are rounded correctly,
// one by one, everywhere.
//
// Quaternions are Hamilton and active; angles are radians.
package steady
