package kernel

// MaxHalfError bounds the error of half a twist in units of eps (2^-52, 2^-23)
// over the condition: package twist derives it for the same dot products.
const MaxHalfError = 8

// MaxError64 and MaxError32 bound the error of a component of a segment's
// rotation beyond that of the twists, whose shares are at most 1: half a twist up
// to pi/2 is off by 3 eps of arithmetic of its own, its share and the sum by one,
// the sine and cosine by up to 4 and their product with the axis by one more, of
// 2^-53 or 2^-24 each.
const (
	MaxError64 = 4e-15
	MaxError32 = 5e-7
)

// MaxFieldError bounds what looking a correction up in float32 adds to half a
// twist, in units of 2^-23 over the condition: the place in the plane is off by some
// 8 roundings of its distance from the box's corner, up to 20 cells, and half the
// correction changes by less than a tenth of a radian from cell to cell; 5 more
// roundings of the spline's sum. In float64 it is as many units of 2^-52.
const MaxFieldError = 24
