package oracle

import "math/big"

// Precision is the number of bits that results carry; all but the last few
// are right.
const Precision = 256

// Real is an immutable big.Float: its methods return new values.
type Real struct{ f *big.Float }

// Float returns x exactly.
func Float(x float64) Real { return Real{fresh(Precision).SetFloat64(x)} }

// Float64 returns r rounded to the nearest float64.
func (r Real) Float64() float64 {
	x, _ := r.f.Float64()
	return x
}

// Add returns r + s.
func (r Real) Add(s Real) Real { return Real{fresh(r.prec(s)).Add(r.f, s.f)} }

// Sub returns r - s.
func (r Real) Sub(s Real) Real { return Real{fresh(r.prec(s)).Sub(r.f, s.f)} }

// Mul returns r s.
func (r Real) Mul(s Real) Real { return Real{fresh(r.prec(s)).Mul(r.f, s.f)} }

// Div returns r/s.
func (r Real) Div(s Real) Real { return Real{fresh(r.prec(s)).Quo(r.f, s.f)} }

// Neg returns -r.
func (r Real) Neg() Real { return Real{fresh(r.f.Prec()).Neg(r.f)} }

// Abs returns |r|.
func (r Real) Abs() Real { return Real{fresh(r.f.Prec()).Abs(r.f)} }

// Sqrt returns the square root of r >= 0.
func (r Real) Sqrt() Real { return Real{fresh(r.f.Prec()).Sqrt(r.f)} }

// Sign returns -1, 0 or 1.
func (r Real) Sign() int { return r.f.Sign() }

// Cmp returns -1, 0 or 1 as r is less than, equal to or greater than s.
func (r Real) Cmp(s Real) int { return r.f.Cmp(s.f) }

// prec is the wider of the two precisions.
func (r Real) prec(s Real) uint { return max(r.f.Prec(), s.f.Prec()) }

// to returns r at another precision.
func (r Real) to(prec uint) Real { return Real{fresh(prec).Set(r.f)} }

// times returns r 2^e, exactly.
func (r Real) times(e int) Real { return Real{fresh(r.f.Prec()).SetMantExp(r.f, e)} }

// exponent returns e with |r| in [2^(e-1), 2^e), 0 for zero.
func (r Real) exponent() int { return r.f.MantExp(nil) }

func fresh(prec uint) *big.Float { return new(big.Float).SetPrec(prec) }

func integer(n int64, prec uint) Real { return Real{fresh(prec).SetInt64(n)} }
