package demo

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// toeBreak is where the toes bend, left side.
var toeBreak = r3.Vec{X: hip.X, Y: 0.018, Z: heel + 0.72*footLength}

const (
	heel   = -0.065
	toeTip = heel + footLength
)

// shoeTable: z and y of the loop's top, z and y of its bottom, half width.
var shoeTable = [][5]float64{
	{0.037, 0.0600, -0.0445, 0.0595, 0.034},
	{0.040, 0.0585, -0.0470, 0.0570, 0.0365},
	{0.046, 0.054, -0.058, 0.034, 0.035},
	{0.050, 0.053, heel + 0.001, 0.017, 0.035},
	{0.053, 0.053, -0.0605, 0.005, 0.035},
	{0.057, 0.053, -0.0480, 0.000, 0.034},
	{0.063, 0.052, -0.026, 0.000, 0.034},
	{0.073, 0.050, 0.005, 0.003, 0.035},
	{0.086, 0.047, 0.038, 0.004, 0.038},
	{0.102, 0.043, 0.068, 0.001, 0.042},
	{0.118, 0.039, 0.096, 0.000, 0.044},
	{0.135, 0.034, 0.121, 0.000, 0.043},
	{0.152, 0.030, 0.144, 0.000, 0.039},
	{0.168, 0.025, 0.164, 0.001, 0.032},
	{0.180, 0.021, 0.178, 0.003, 0.023},
	{0.188, 0.016, 0.187, 0.006, 0.012},
}

func (s *surface) shoe(loop []int) {
	prev := loop
	for k, r := range shoeTable {
		top := r3.Vec{X: ankle.X, Y: r[1], Z: r[0]}
		bottom := r3.Vec{X: ankle.X, Y: r[3], Z: r[2]}
		middle := mix(top, bottom, 0.5)
		row := make([]int, legSides)
		for i := range row {
			sin, cos := math.Sincos(legAngle(i, legLength))
			square := func(v, p float64) float64 { return math.Copysign(math.Pow(math.Abs(v), p), v) }
			p := mix(middle, top, square(cos, 0.7))
			p.X -= r[4] * square(sin, 0.75)
			c := shoeTone
			switch {
			case k == 0:
				c = skinTone
			case k > 5 && cos < -0.6:
				c = soleTone
			}
			row[i] = s.add(p, c, shoeWeights(p))
		}
		s.strip(prev, row)
		prev = row
	}
	tip := r3.Vec{X: ankle.X, Y: 0.011, Z: toeTip}
	s.fan(prev, s.add(tip, shoeTone, shoeWeights(tip)))
}

func shoeWeights(p r3.Vec) weights {
	w := handOver(ankle.Y-p.Y, []int{shinL, footL}, [][2]float64{{-0.03, 0.03}})
	behind := smoothStep(toeBreak.Z-0.025, toeBreak.Z+0.025, p.Z)
	w[toesL] = behind * w[footL]
	w[footL] -= w[toesL]
	return w
}
