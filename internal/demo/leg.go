package demo

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	legSides    = 24
	crotchSides = legSides - torsoColumns/2 - 1 // vertices between the legs
	crotch      = 0.788
	legCuff     = 0.050 // the leggings end this far above the ankle
)

// legTable: distance from the hip down the leg; radii towards the front, the
// other leg, the back and the outside, in metres.
var legTable = tabulate([][]float64{
	{0.080, 0.088, 0.086, 0.098, 0.076},
	{0.130, 0.087, 0.085, 0.092, 0.074},
	{0.180, 0.084, 0.080, 0.086, 0.070},
	{0.250, 0.078, 0.071, 0.077, 0.065},
	{0.320, 0.067, 0.059, 0.064, 0.057},
	{0.375, 0.058, 0.052, 0.055, 0.051},
	{0.415, 0.056, 0.051, 0.050, 0.050},
	{0.455, 0.049, 0.048, 0.051, 0.047},
	{0.500, 0.044, 0.049, 0.061, 0.049},
	{0.550, 0.041, 0.050, 0.068, 0.050},
	{0.610, 0.039, 0.044, 0.060, 0.044},
	{0.680, 0.036, 0.036, 0.045, 0.036},
	{0.750, 0.033, 0.030, 0.036, 0.031},
	{0.800, 0.032, 0.030, 0.036, 0.030},
	{legLength, 0.035, 0.034, 0.040, 0.034},
})

// legAngle is 0 in front and a quarter turn towards the other leg. The first
// vertex of a loop comes from the middle of the belly, number 16 is straight
// outside, where the stripe runs down to the cuff.
func legAngle(i int, d float64) float64 {
	fade := 1 - smoothStep(legLength-legCuff, legLength, d)
	return 30*degree + stripeAngle(i, outside, legSides, 9.5*degree, fade)
}

const outside = 16

func legPoint(d, theta float64) r3.Vec {
	sin, cos := math.Sincos(theta)
	f, b := legTable.at(0, d), legTable.at(1, d)
	if cos < 0 {
		f = legTable.at(2, d)
	}
	if sin < 0 {
		b = legTable.at(3, d)
	}
	if d < legLength-legCuff {
		f, b = f+cloth, b+cloth
	}
	return r3.Vec{X: hip.X - b*sin, Y: hip.Y - d, Z: hip.Z + f*cos}
}

// legs grows both legs from the lowest loop of the torso.
func (s *surface) legs(loop []int) {
	front, back := loop[0], loop[torsoColumns/2]
	between := make([]int, crotchSides)
	for i := range between {
		t := float64(i+1) / float64(crotchSides+1)
		p := mix(s.at[front], s.at[back], t)
		sag := math.Sin(math.Pi * t)
		p.Y = lerp(p.Y, crotch, math.Pow(sag, 0.6))
		between[i] = s.add(p, legsTone, trunkWeights(p))
		s.loose[between[i]] = 0.6
	}
	for _, side := range [2]bool{false, true} {
		s.mirrored = side
		opening := append([]int{front}, between...)
		opening = append(opening, back)
		for c := torsoColumns/2 - 1; c > 0; c-- {
			if side {
				opening = append(opening, loop[torsoColumns-c])
			} else {
				opening = append(opening, loop[c])
			}
		}
		s.leg(opening)
	}
	s.mirrored = false
}

func (s *surface) leg(opening []int) {
	const first = 0.125
	const spacing = 0.0152
	rows := [][]int{opening}
	const caps = 5
	for k := 1; k < caps; k++ {
		t := float64(k) / caps
		row := make([]int, legSides)
		for i := range row {
			from := s.at[opening[i]]
			if s.mirrored {
				from = mirror(from)
			}
			to := legPoint(first, legAngle(i, first))
			reach := r3.Norm(r3.Sub(to, from))
			down := r3.Vec{Y: -reach}
			p := hermite(from, down, to, down, t)
			row[i] = s.add(p, legColour(hip.Y-p.Y, i), legWeights(p))
			s.loose[row[i]] = 1
		}
		rows = append(rows, row)
	}
	for _, d := range stations(first, legLength-0.012, spacing, legLength-legCuff-trimWidth, legLength-legCuff) {
		row := make([]int, legSides)
		for i := range row {
			p := legPoint(d, legAngle(i, d))
			row[i] = s.add(p, legColour(d, i), legWeights(p))
			s.loose[row[i]] = 1 - smoothStep(first, first+0.08, d)
		}
		rows = append(rows, row)
	}
	s.grid(rows)
	s.shoe(rows[len(rows)-1])
}

func legColour(d float64, side int) colour {
	outer := side - outside
	switch {
	case d > legLength-legCuff:
		return skinTone
	case d > legLength-legCuff-trimWidth, outer >= -1 && outer <= 1:
		return trimTone
	}
	return legsTone
}

func legWeights(p r3.Vec) weights {
	w := handOver(hip.Y-p.Y, []int{thighL, shinL, footL}, [][2]float64{
		{thighLength - 0.05, thighLength + 0.05},
		{legLength - 0.03, legLength + 0.03},
	})
	own := belowGroin(p)
	for i := range w {
		w[i] *= own
	}
	w[pelvis] += 1 - own
	return w
}

// belowGroin is the left thigh's share of the hip: the groin slants from between
// the legs to the outside of the hip.
func belowGroin(p r3.Vec) float64 {
	line := 0.772 + 1.0*p.X
	return smoothStep(-0.06, 0.06, line-p.Y)
}
