// Package draw generates directions and rotations for property tests, with
// weight on the values where floating point goes wrong: zeros of both signs,
// exact halves, numbers far apart in magnitude, subnormal and huge lengths,
// and rotations within a hair of half a turn. Only tests import it.
package draw

import (
	"flag"
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// FixSeed makes every run of the tests draw the same values unless the user
// asks for another seed with -rapid.seed. Call it from TestMain.
func FixSeed() {
	flag.Parse()
	if seed := flag.Lookup("rapid.seed"); seed.Value.String() == "0" {
		if err := seed.Value.Set("1"); err != nil {
			panic(err) // rapid's flag has changed its type
		}
	}
}

// Component generates a number in [-1, 1], often a special one.
func Component() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Float64Range(-1, 1),
		rapid.Float64Range(-1, 1),
		rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, -1, 0.5, -0.5, math.Sqrt2 / 2, 1e-5, -1e-8, 1e-12, 3e-16, -1e-170}),
	)
}

// exponent generates a power of two to scale by: most often 0, sometimes far
// out, where squares overflow or vanish.
func exponent() *rapid.Generator[int] {
	return rapid.Custom(func(t *rapid.T) int {
		if rapid.IntRange(0, 3).Draw(t, "scaled") > 0 {
			return 0
		}
		return rapid.OneOf(
			rapid.IntRange(-1060, 1020),
			rapid.SampledFrom([]int{-1073, -1022, -511, -450, -27, 1, 449, 511, 1022}),
		).Draw(t, "exponent")
	})
}

// Direction generates a finite non-zero vector of any length.
func Direction() *rapid.Generator[r3.Vec] {
	return rapid.Custom(func(t *rapid.T) r3.Vec {
		c, e := Component(), exponent().Draw(t, "e")
		return r3.Vec{
			X: math.Ldexp(c.Draw(t, "x"), e),
			Y: math.Ldexp(c.Draw(t, "y"), e),
			Z: math.Ldexp(c.Draw(t, "z"), e),
		}
	}).Filter(func(v r3.Vec) bool { return v != (r3.Vec{}) })
}

// Rotation generates a finite non-zero quaternion of any length.
func Rotation() *rapid.Generator[quat.Number] {
	return rapid.Custom(func(t *rapid.T) quat.Number {
		c, e := Component(), exponent().Draw(t, "e")
		return quat.Number{
			Real: math.Ldexp(c.Draw(t, "w"), e),
			Imag: math.Ldexp(c.Draw(t, "x"), e),
			Jmag: math.Ldexp(c.Draw(t, "y"), e),
			Kmag: math.Ldexp(c.Draw(t, "z"), e),
		}
	}).Filter(func(q quat.Number) bool { return q != (quat.Number{}) })
}

// Near generates a direction close to v, by anything from a rounding to a
// radian; v is of a length near 1.
func Near(v r3.Vec) *rapid.Generator[r3.Vec] {
	return rapid.Custom(func(t *rapid.T) r3.Vec {
		c := rapid.Float64Range(-1, 1)
		size := math.Ldexp(1, -rapid.IntRange(0, 53).Draw(t, "closeness"))
		return r3.Vec{
			X: v.X + size*c.Draw(t, "dx"),
			Y: v.Y + size*c.Draw(t, "dy"),
			Z: v.Z + size*c.Draw(t, "dz"),
		}
	}).Filter(func(v r3.Vec) bool { return v != (r3.Vec{}) })
}

// Unit generates a direction of a length near 1.
func Unit() *rapid.Generator[r3.Vec] {
	return rapid.Custom(func(t *rapid.T) r3.Vec {
		c := Component()
		return r3.Unit(rapid.Custom(func(t *rapid.T) r3.Vec {
			return r3.Vec{X: c.Draw(t, "x"), Y: c.Draw(t, "y"), Z: c.Draw(t, "z")}
		}).Filter(func(v r3.Vec) bool { return r3.Norm(v) > 0.1 }).Draw(t, "direction"))
	})
}

// UnitRotation generates a rotation of a length near 1.
func UnitRotation() *rapid.Generator[quat.Number] {
	return rapid.Custom(func(t *rapid.T) quat.Number {
		c := Component()
		q := rapid.Custom(func(t *rapid.T) quat.Number {
			return quat.Number{Real: c.Draw(t, "w"), Imag: c.Draw(t, "x"), Jmag: c.Draw(t, "y"), Kmag: c.Draw(t, "z")}
		}).Filter(func(q quat.Number) bool { return quat.Abs(q) > 0.1 }).Draw(t, "rotation")
		return quat.Scale(1/quat.Abs(q), q)
	})
}
