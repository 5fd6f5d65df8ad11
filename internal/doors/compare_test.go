package doors

import (
	"fmt"
	"math"
)

// precision is what a door promises.
type precision struct {
	double, single bool
	tolerance      float64 // of a component, q and -q being the same; 0: the same bits
	unsigned       bool    // zeros are written without a sign
}

var (
	both    = precision{double: true, single: true}
	doubles = precision{double: true}
	// decimals are numbers in text, which read back to the same bits; a negative zero,
	// which nobody wants to read, is written as zero.
	decimals = precision{double: true, unsigned: true}
	// constraints go by places in float32, 6e-8 of a bone's length off, through some
	// three arcs (chain/asset has the same tolerance).
	constraints = precision{double: true, tolerance: 1e-6}
	// almost is for processors on which Wren has other last digits: some hundred
	// roundings of 2^-53 lie between her joints and a segment.
	almost = precision{double: true, tolerance: 1e-13}
)

// differ says where answers are not as promised; "" where they are.
func (p precision) differ(want, got answers) string {
	if p.double {
		if len(got.Double) != len(want.Double) {
			return fmt.Sprintf("%d segments of float64, expected %d", len(got.Double), len(want.Double))
		}
		for i, q := range want.Double {
			if !p.same(q, got.Double[i]) {
				return fmt.Sprintf("segment %d: %.17g, expected %.17g", i+1, got.Double[i], q)
			}
		}
	}
	if p.single {
		if len(got.Single) != len(want.Single) {
			return fmt.Sprintf("%d segments of float32, expected %d", len(got.Single), len(want.Single))
		}
		for i, q := range want.Single {
			for k, x := range q {
				if math.Float32bits(x) != math.Float32bits(got.Single[i][k]) {
					return fmt.Sprintf("segment %d: %.9g, expected %.9g", i+1, got.Single[i], q)
				}
			}
		}
	}
	return ""
}

func (p precision) same(want, got bits64) bool {
	if p.tolerance > 0 {
		var plus, minus float64
		for i, x := range want {
			plus, minus = max(plus, math.Abs(got[i]-x)), max(minus, math.Abs(got[i]+x))
		}
		return min(plus, minus) <= p.tolerance // not with NaN
	}
	for i, x := range want {
		if p.unsigned && x == 0 {
			x = 0
		}
		if math.Float64bits(x) != math.Float64bits(got[i]) {
			return false
		}
	}
	return true
}

// spoil makes a pose's answers ones that a door must be found not to give: by one bit,
// the lowest of the last number of a precision, or by three times the tolerance.
func (p precision) spoil(want answers) (out []answers) {
	last := len(want.Double) - 1
	if p.double {
		a := answers{append([]bits64(nil), want.Double...), want.Single}
		x := &a.Double[last][3]
		if *x = math.Float64frombits(math.Float64bits(*x) ^ 1); p.tolerance > 0 {
			*x += 3 * p.tolerance
		}
		out = append(out, a)
	}
	if p.single {
		a := answers{want.Double, append([]bits32(nil), want.Single...)}
		x := &a.Single[last][3]
		*x = math.Float32frombits(math.Float32bits(*x) ^ 1)
		out = append(out, a)
	}
	return out
}
