package oracle

import (
	"math/big"
)

// guard is the number of bits computed beyond Precision.
const guard = 64

// Pi returns the number.
func Pi() Real { return pi(Precision + guard).to(Precision) }

// pi sums Machin's series, pi = 16 atan(1/5) - 4 atan(1/239), 1706.
func pi(prec uint) Real {
	prec += guard
	inverse := func(n int64) Real {
		term := integer(1, prec).Div(integer(n, prec))
		return atanSeries(term)
	}
	return inverse(5).times(4).Sub(inverse(239).times(2)).to(prec - guard)
}

// Sin returns the sine of x.
func Sin(x Real) Real { s, _ := sincos(x); return s }

// Cos returns the cosine of x.
func Cos(x Real) Real { _, c := sincos(x); return c }

// sincos takes out quarter turns, with as many bits of pi as x has above the
// point and as many again as are lost next to a multiple, and sums Taylor's
// series for the rest.
func sincos(x Real) (sin, cos Real) {
	// A float64 comes no closer to a multiple of pi/2 than some 2^-60 times
	// itself, so twice the guard is ample.
	prec := uint(Precision + 2*guard + max(0, x.exponent()))
	x = x.to(prec)
	quarter := pi(prec).times(-1)
	turns := nearest(x.Div(quarter))
	x = x.Sub(Real{fresh(prec).SetInt(turns)}.Mul(quarter))
	sin, cos = sincosSeries(x)
	switch new(big.Int).And(turns, big.NewInt(3)).Int64() { // two's complement: right for negative turns too
	case 1:
		sin, cos = cos, sin.Neg()
	case 2:
		sin, cos = sin.Neg(), cos.Neg()
	case 3:
		sin, cos = cos.Neg(), sin
	}
	return sin.to(Precision), cos.to(Precision)
}

// nearest returns the integer nearest to r.
func nearest(r Real) *big.Int {
	half := Float(0.5)
	if r.Sign() < 0 {
		half = half.Neg()
	}
	n, _ := r.Add(half).f.Int(nil) // towards zero
	return n
}

// sincosSeries is Taylor's series, for |x| <= 1.
func sincosSeries(x Real) (sin, cos Real) {
	prec := x.f.Prec()
	sin, cos = integer(0, prec), integer(0, prec)
	term := integer(1, prec)
	for k := int64(1); term.Sign() != 0 && term.exponent() > x.exponent()-int(prec); k++ {
		switch k % 4 {
		case 1:
			cos = cos.Add(term)
		case 2:
			sin = sin.Add(term)
		case 3:
			cos = cos.Sub(term)
		case 0:
			sin = sin.Sub(term)
		}
		term = term.Mul(x).Div(integer(k, prec))
	}
	return sin, cos
}

// Atan2 returns the angle of the point (x, y) from the x axis, in (-pi, pi];
// that of the origin is 0.
func Atan2(y, x Real) Real {
	prec := uint(Precision + guard)
	y, x = y.to(prec), x.to(prec)
	switch {
	case y.Sign() == 0 && x.Sign() >= 0:
		return Float(0)
	case y.Sign() == 0:
		return Pi()
	}
	// Half the angle has tangent y/(r+x), which cancels to the left of the
	// origin; there take it from (r-x)/y.
	r := y.Mul(y).Add(x.Mul(x)).Sqrt()
	if x.Sign() >= 0 {
		return atan(y.Div(r.Add(x))).times(1).to(Precision)
	}
	return atan(r.Sub(x).Div(y)).times(1).to(Precision)
}

// atan halves the angle until the series is short: tan(a/2) = t/(1+sqrt(1+t²)).
func atan(t Real) Real {
	const halvings = 8
	one := integer(1, t.f.Prec())
	for range halvings {
		t = t.Div(one.Add(one.Add(t.Mul(t)).Sqrt()))
	}
	return atanSeries(t).times(halvings)
}

// atanSeries is Gregory's series, for small |t|.
func atanSeries(t Real) Real {
	prec := t.f.Prec()
	sum, power := integer(0, prec), t
	for k := int64(1); power.Sign() != 0 && power.exponent() > t.exponent()-int(prec); k += 2 {
		term := power.Div(integer(k, prec))
		if k%4 == 1 {
			sum = sum.Add(term)
		} else {
			sum = sum.Sub(term)
		}
		power = power.Mul(t).Mul(t)
	}
	return sum
}
