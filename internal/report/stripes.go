package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// stripes are a pattern on the skin of a limb that shows twist: stripes along the
// bone and rings round it. Twist turns the stripes into spirals; where it is
// concentrated they are pinched together.
type stripes struct {
	from, to r3.Vec // the ends of the bone at rest
	// within tells how much of the pattern a point at rest has, 0 to 1.
	within func(rest r3.Vec) float64
}

const (
	stripeCount = 20   // round the limb, dark and pale ones
	ringsApart  = 0.06 // metres
	ringWidth   = 0.004
	stripeShade = 0.62 // of the skin's colour
	ringShade   = 0.45
)

// pattern is that of a Mesh.
func (s stripes) pattern() func(rest r3.Vec, colour Colour) Colour {
	axis := r3.Unit(r3.Sub(s.to, s.from))
	least := r3.Vec{X: 1}
	if math.Abs(axis.X) > math.Abs(axis.Z) {
		least = r3.Vec{Z: 1}
	}
	u := r3.Unit(r3.Cross(axis, least))
	v := r3.Cross(axis, u)
	return func(at r3.Vec, colour Colour) Colour {
		d := r3.Sub(at, s.from)
		shade := 1.
		sector := int(math.Floor(math.Atan2(r3.Dot(d, v), r3.Dot(d, u)) / (2 * math.Pi) * stripeCount))
		if sector&1 == 0 {
			shade = stripeShade
		}
		if along := math.Remainder(r3.Dot(d, axis), ringsApart); math.Abs(along) < ringWidth/2 {
			shade = ringShade
		}
		return colour.scale(1 + s.within(at)*(shade-1))
	}
}
