package demo

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// faceBumps are the features of the face.
var faceBumps = []bump{
	{at: r3.Vec{Y: 1.5395, Z: 0.100}, size: r3.Vec{X: 0.0105, Y: 0.011, Z: 0.05}, push: r3.Vec{Z: 0.0155, Y: -0.001}},                  // tip of the nose
	{at: r3.Vec{Y: 1.560, Z: 0.100}, size: r3.Vec{X: 0.008, Y: 0.020, Z: 0.05}, push: r3.Vec{Z: 0.0100}},                               // its bridge
	{at: r3.Vec{X: 0.010, Y: 1.535, Z: 0.1}, size: r3.Vec{X: 0.006, Y: 0.007, Z: 0.05}, push: r3.Vec{Z: 0.004}, pair: true},            // nostrils
	{at: r3.Vec{X: 0.031, Y: 1.575, Z: 0.085}, size: r3.Vec{X: 0.018, Y: 0.012, Z: 0.05}, push: r3.Vec{Z: -0.007}, pair: true},         // eye sockets
	{at: r3.Vec{X: 0.026, Y: 1.594, Z: 0.09}, size: r3.Vec{X: 0.022, Y: 0.008, Z: 0.05}, push: r3.Vec{Z: 0.003}, pair: true},           // brows
	{at: r3.Vec{X: 0.042, Y: 1.548, Z: 0.07}, size: r3.Vec{X: 0.018, Y: 0.014, Z: 0.05}, push: r3.Vec{X: 0.003, Z: 0.004}, pair: true}, // cheeks
	{at: r3.Vec{Y: 1.513, Z: 0.1}, size: r3.Vec{X: 0.020, Y: 0.010, Z: 0.05}, push: r3.Vec{Z: 0.0045}},                                 // lips
	{at: r3.Vec{Y: 1.499, Z: 0.1}, size: r3.Vec{X: 0.020, Y: 0.005, Z: 0.05}, push: r3.Vec{Z: -0.002}},                                 // under them
	{at: r3.Vec{Y: 1.484, Z: 0.1}, size: r3.Vec{X: 0.016, Y: 0.010, Z: 0.05}, push: r3.Vec{Z: 0.004}},                                  // chin
}

// decalRing is one ring of a feature of the face: its half width and the heights
// of its upper and lower edge in metres, how far it stands off the skin, how
// pointed its corners are (1 is an ellipse), and how its middle is arched.
type decalRing struct {
	width, above, below, lift, corner, arch float64
	colour                                  colour
}

var mouthRings = []decalRing{
	{0.0216, 0.0063, 0.0071, 0.0001, 1.1, -0.001, skinTone},
	{0.0208, 0.0058, 0.0066, 0.0004, 1.1, -0.001, lipTone},
	{0.0175, 0.0026, 0.0030, 0.0014, 1.1, -0.001, lipTone},
	{0.0165, 0.0006, 0.0006, -0.0008, 1.0, -0.001, mouthTone},
}

var eyeRings = []decalRing{
	{0.0165, 0.0085, 0.0068, 0.0006, 1.25, 0, skinTone},
	{0.0155, 0.0076, 0.0054, 0.0008, 1.25, 0, lashTone},
	{0.0143, 0.0056, 0.0046, -0.0004, 1.25, 0, lashTone},
	{0.0138, 0.0052, 0.0043, -0.0006, 1.25, 0, eyeWhite},
	{0.0058, 0.0053, 0.0044, 0.0006, 0.9, 0, eyeWhite},
	{0.0052, 0.0052, 0.0043, 0.0008, 0.9, 0, irisTone},
	{0.0024, 0.0022, 0.0022, 0.0010, 1, 0, irisTone},
	{0.0020, 0.0018, 0.0018, 0.0010, 1, 0, pupilTone},
}

var browRings = []decalRing{
	{0.0185, 0.0040, 0.0034, 0.0002, 1.1, 0.0025, skinTone},
	{0.0175, 0.0030, 0.0024, 0.0012, 1.1, 0.0025, hairTone},
}

// decal fills an opening of the face with rings drawn on the skin around a place
// given as column and row.
func (s *surface) decal(opening []int, column, row float64, rings []decalRing) {
	const h = 1.5 // wide enough to smooth over the outline's kink in the middle
	middle := headPoint(column, row)
	perColumn := r3.Norm(r3.Sub(headPoint(column+h, row), headPoint(column-h, row))) / (2 * h)
	perRow := r3.Norm(r3.Sub(headPoint(column, row+h), headPoint(column, row-h))) / (2 * h)
	on := func(x, y, lift float64) r3.Vec {
		c, r := column+x/perColumn, row+y/perRow
		return r3.Add(headPoint(c, r), r3.Scale(lift, headOut(c, r)))
	}
	w := headWeights(middle)
	loop := opening
	var last decalRing
	for _, ring := range rings {
		next := make([]int, len(opening))
		for i := range next {
			// The rim begins at the middle of its first column and goes down.
			sin, cos := math.Sincos(rimAngle(i, len(opening)))
			y := ring.above
			if sin > 0 {
				y = ring.below
			}
			x := -ring.width * cos
			y *= -math.Copysign(math.Pow(math.Abs(sin), ring.corner), sin)
			bow := ring.arch * (0.5 - cos*cos)
			// Corners lie flat on the skin.
			next[i] = s.add(on(x, y+bow, ring.lift*math.Abs(sin)), ring.colour, w)
		}
		s.strip(loop, next)
		loop, last = next, ring
	}
	s.fan(loop, s.add(on(0, 0.5*last.arch, last.lift), last.colour, w))
}

// rimAngle gives a vertex of the rim of a patch two rows high its angle on a ring
// inside: from the left-hand corner downward, spaced across as the rim's columns
// are.
func rimAngle(i, n int) float64 {
	half := n / 2 // the opposite corner
	switch {
	case i == 0:
		return 0
	case i == half:
		return math.Pi
	case i > half:
		return 2*math.Pi - rimAngle(n-i, n)
	}
	columns := float64(half - 2)
	x := (float64(i-1) - columns/2) / (columns/2 + 0.6) // -1 to 1 from corner to corner
	return math.Atan2(math.Sqrt(1-x*x), -x)
}
