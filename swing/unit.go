package swing

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// finite reports whether v has neither NaN nor Inf.
func finite(v r3.Vec) bool { return v.X-v.X == 0 && v.Y-v.Y == 0 && v.Z-v.Z == 0 }

var (
	identity = quat.Number{Real: 1}
	nan      = r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}
)
