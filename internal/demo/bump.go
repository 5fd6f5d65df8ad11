package demo

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// bump raises the skin around a place, in a direction, with a bell shape.
type bump struct {
	at   r3.Vec
	size r3.Vec // half widths, to a fall by e
	push r3.Vec // at the middle
	pair bool   // the same on the right side
}

func (b bump) raise(p r3.Vec) r3.Vec {
	d := r3.Sub(p, b.at)
	x, y, z := d.X/b.size.X, d.Y/b.size.Y, d.Z/b.size.Z
	return r3.Scale(math.Exp(-x*x-y*y-z*z), b.push)
}

// push sums the bumps at a point.
func push(bumps []bump, p r3.Vec) r3.Vec {
	var sum r3.Vec
	for _, b := range bumps {
		sum = r3.Add(sum, b.raise(p))
		if b.pair {
			sum = r3.Add(sum, mirror(b.raise(mirror(p))))
		}
	}
	return sum
}

// bodyBumps round out what the tables leave plain.
var bodyBumps = []bump{
	{at: r3.Vec{X: 0.062, Y: 1.262, Z: 0.085}, size: r3.Vec{X: 0.046, Y: 0.046, Z: 0.07}, push: r3.Vec{X: 0.003, Y: -0.003, Z: 0.026}, pair: true}, // breasts
	{at: r3.Vec{X: 0.078, Y: 0.888, Z: -0.105}, size: r3.Vec{X: 0.055, Y: 0.060, Z: 0.06}, push: r3.Vec{Z: -0.020}, pair: true},                    // buttocks
	{at: r3.Vec{X: 0.072, Y: 1.330, Z: -0.105}, size: r3.Vec{X: 0.035, Y: 0.045, Z: 0.05}, push: r3.Vec{Z: -0.008}, pair: true},                    // shoulder blades
	{at: r3.Vec{Y: 1.2, Z: -0.09}, size: r3.Vec{X: 0.02, Y: 0.16, Z: 0.05}, push: r3.Vec{Z: 0.007}},                                                // the groove of the spine
	{at: r3.Vec{X: 0.052, Y: 1.408, Z: 0.03}, size: r3.Vec{X: 0.040, Y: 0.010, Z: 0.03}, push: r3.Vec{Y: 0.002, Z: 0.004}, pair: true},             // collar bones
	{at: r3.Vec{X: hip.X, Y: knee.Y + 0.005, Z: 0.056}, size: r3.Vec{X: 0.026, Y: 0.030, Z: 0.03}, push: r3.Vec{Z: 0.005}, pair: true},             // kneecaps
}

// raise moves every vertex by the bumps.
func (s *surface) raise(bumps []bump) {
	for v, p := range s.at {
		s.at[v] = r3.Add(p, push(bumps, p))
	}
}
