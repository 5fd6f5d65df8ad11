package demo

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Unit axes of the world at rest.
var (
	left = r3.Vec{X: 1}
	up   = r3.Vec{Y: 1}
	fore = r3.Vec{Z: 1}
)

const degree = math.Pi / 180

// turn is the right-handed rotation about an axis of any length.
func turn(axis r3.Vec, angle float64) quat.Number {
	sin, cos := math.Sincos(angle / 2)
	v := r3.Scale(sin, r3.Unit(axis))
	return quat.Number{Real: cos, Imag: v.X, Jmag: v.Y, Kmag: v.Z}
}

// rotate turns a vector by a unit quaternion.
func rotate(q quat.Number, v r3.Vec) r3.Vec {
	p := quat.Mul(quat.Mul(q, quat.Number{Imag: v.X, Jmag: v.Y, Kmag: v.Z}), quat.Conj(q))
	return r3.Vec{X: p.Imag, Y: p.Jmag, Z: p.Kmag}
}

// mirror reflects a point across the plane between left and right.
func mirror(p r3.Vec) r3.Vec { return r3.Vec{X: -p.X, Y: p.Y, Z: p.Z} }

// mirrorTurn reflects a rotation: an axis of turning is a pseudovector, so the
// components along the mirror change sign and the one across it stays.
func mirrorTurn(q quat.Number) quat.Number {
	return quat.Number{Real: q.Real, Imag: q.Imag, Jmag: -q.Jmag, Kmag: -q.Kmag}
}

// smoothStep rises from 0 at a to 1 at b with level ends.
func smoothStep(a, b, x float64) float64 {
	t := min(max((x-a)/(b-a), 0), 1)
	return t * t * (3 - 2*t)
}

// mix is a + (b-a) t for points.
func mix(a, b r3.Vec, t float64) r3.Vec { return r3.Add(a, r3.Scale(t, r3.Sub(b, a))) }

func lerp(a, b, t float64) float64 { return a + (b-a)*t }

// angle is the angle between two vectors.
func angle(a, b r3.Vec) float64 { return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)) }
