package steady

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Dot is v·w. It rounds as w·v does.
func Dot(v, w r3.Vec) float64 {
	return float64(v.X*w.X) + float64(v.Y*w.Y) + float64(v.Z*w.Z)
}

// Cross is v×w; v×v is exactly zero.
func Cross(v, w r3.Vec) r3.Vec {
	return r3.Vec{
		X: float64(v.Y*w.Z) - float64(v.Z*w.Y),
		Y: float64(v.Z*w.X) - float64(v.X*w.Z),
		Z: float64(v.X*w.Y) - float64(v.Y*w.X),
	}
}

// Norm2 is the squared length of v.
func Norm2(v r3.Vec) float64 { return Dot(v, v) }

// Scale is f v.
func Scale(f float64, v r3.Vec) r3.Vec {
	return r3.Vec{X: float64(f * v.X), Y: float64(f * v.Y), Z: float64(f * v.Z)}
}

// Over is v/n, by one division; its extra rounding goes into the length, not
// the direction.
func Over(v r3.Vec, n float64) r3.Vec { return Scale(1/n, v) }

// Less is v - f w.
func Less(v r3.Vec, f float64, w r3.Vec) r3.Vec { return r3.Sub(v, Scale(f, w)) }

// Along is x u + y v + z w: the vector with these coordinates.
func Along(x float64, u r3.Vec, y float64, v r3.Vec, z float64, w r3.Vec) r3.Vec {
	return r3.Add(r3.Add(Scale(x, u), Scale(y, v)), Scale(z, w))
}

// Hypot is the distance of the point (x, y) from the origin, to 2 eps; NaN and
// Inf give NaN or Inf.
func Hypot(x, y float64) float64 {
	sum := float64(x*x) + float64(y*y)
	if sum > safeLow && sum < safeHigh {
		return math.Sqrt(sum)
	}
	e, k := exponent(max(math.Abs(x), math.Abs(y)))
	if k != Proper {
		return math.Abs(x) + math.Abs(y)
	}
	x, y = math.Ldexp(x, -e), math.Ldexp(y, -e)
	return math.Ldexp(math.Sqrt(float64(x*x)+float64(y*y)), e)
}
