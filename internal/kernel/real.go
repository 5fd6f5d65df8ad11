package kernel

import (
	"math"
	"unsafe"
)

// Real is a precision to solve in.
type Real interface{ float32 | float64 }

// isSingle reports whether F is float32; the compiler knows the answer.
func isSingle[F Real]() bool { return unsafe.Sizeof(F(0)) == 4 }

// sqrt is correctly rounded in either precision: a float64 root of a float32
// rounds to the float32 root (Figueroa 1995, "When is double rounding innocuous?").
func sqrt[F Real](x F) F { return F(math.Sqrt(float64(x))) }

// nan is the one NaN that is handed out, the same bits on every processor:
// which bits arithmetic leaves in a NaN is up to each.
func nan[F Real]() F {
	if isSingle[F]() {
		quiet := math.Float32frombits(0x7fc00000)
		return *(*F)(unsafe.Pointer(&quiet))
	}
	quiet := math.Float64frombits(0x7ff8000000000000)
	return *(*F)(unsafe.Pointer(&quiet))
}

// Squared norms between low and high are used as they are: there neither a
// square nor a quotient of squares overflows or loses bits. least is the square
// of the condition below which a twist is undefined, 8 eps (package twist derives
// it for float64; the bound for float32 is made of the same roundings).
const (
	low64, high64 = 0x1p-900, 0x1p+900
	low32, high32 = 0x1p-60, 0x1p+60
	least64       = (8 * 0x1p-52) * (8 * 0x1p-52)
	least32       = (8 * 0x1p-23) * (8 * 0x1p-23)
)

// singles and doubles see a slice of F as what it is.
func singles[F Real](s []F) []float32 {
	return unsafe.Slice((*float32)(unsafe.Pointer(unsafe.SliceData(s))), len(s))
}

func doubles[F Real](s []F) []float64 {
	return unsafe.Slice((*float64)(unsafe.Pointer(unsafe.SliceData(s))), len(s))
}
