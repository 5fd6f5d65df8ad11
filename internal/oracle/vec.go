package oracle

import "gonum.org/v1/gonum/spatial/r3"

// Vec is a vector.
type Vec struct{ X, Y, Z Real }

// FromVec returns v exactly.
func FromVec(v r3.Vec) Vec { return Vec{Float(v.X), Float(v.Y), Float(v.Z)} }

// Float64 returns v with each component rounded.
func (v Vec) Float64() r3.Vec { return r3.Vec{X: v.X.Float64(), Y: v.Y.Float64(), Z: v.Z.Float64()} }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X.Add(w.X), v.Y.Add(w.Y), v.Z.Add(w.Z)} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X.Sub(w.X), v.Y.Sub(w.Y), v.Z.Sub(w.Z)} }

// Scale returns f v.
func (v Vec) Scale(f Real) Vec { return Vec{f.Mul(v.X), f.Mul(v.Y), f.Mul(v.Z)} }

// Dot returns v·w.
func (v Vec) Dot(w Vec) Real { return v.X.Mul(w.X).Add(v.Y.Mul(w.Y)).Add(v.Z.Mul(w.Z)) }

// Cross returns v×w.
func (v Vec) Cross(w Vec) Vec {
	return Vec{
		v.Y.Mul(w.Z).Sub(v.Z.Mul(w.Y)),
		v.Z.Mul(w.X).Sub(v.X.Mul(w.Z)),
		v.X.Mul(w.Y).Sub(v.Y.Mul(w.X)),
	}
}

// Norm returns |v|.
func (v Vec) Norm() Real { return v.Dot(v).Sqrt() }

// Unit returns v/|v|.
func (v Vec) Unit() Vec {
	n := v.Norm()
	return Vec{v.X.Div(n), v.Y.Div(n), v.Z.Div(n)}
}

// Angle returns the angle between v and w, 0 to pi.
func (v Vec) Angle(w Vec) Real { return Atan2(v.Cross(w).Norm(), v.Dot(w)) }
