package demo

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

const armSides = 20

// armTable: distance from the shoulder along the arm; radii towards the front,
// the body, the back and away from the body, in metres.
var armTable = tabulate([][]float64{
	{0.040, 0.051, 0.046, 0.052, 0.052},
	{0.075, 0.050, 0.045, 0.052, 0.053},
	{0.120, 0.046, 0.043, 0.048, 0.048},
	{0.165, 0.046, 0.040, 0.045, 0.039},
	{0.215, 0.044, 0.038, 0.042, 0.036},
	{0.270, 0.037, 0.035, 0.037, 0.033},
	{0.316, 0.034, 0.034, 0.037, 0.034},
	{0.350, 0.038, 0.036, 0.038, 0.040},
	{0.390, 0.041, 0.037, 0.036, 0.042},
	{0.440, 0.037, 0.033, 0.032, 0.036},
	{0.500, 0.030, 0.026, 0.027, 0.028},
	{0.545, 0.026, 0.020, 0.025, 0.021},
	{armLength, 0.025, 0.018, 0.025, 0.018},
	{armLength + 0.022, 0.030, 0.018, 0.029, 0.016},
	{armLength + 0.045, 0.037, 0.018, 0.034, 0.015},
	{armLength + 0.086, 0.038, 0.014, 0.037, 0.013},
})

// towardsBody and fore span the arm's cross-sections.
var towardsBody = r3.Cross(armDirection, fore)

// armPoint is a point of the arm's skin; angle 0 in front, a quarter turn on the
// body's side.
func armPoint(d, theta float64) r3.Vec {
	sin, cos := math.Sincos(theta)
	f, b := armTable.at(0, d), armTable.at(1, d)
	if cos < 0 {
		f = armTable.at(2, d)
	}
	if sin < 0 {
		b = armTable.at(3, d)
	}
	if d < armLength-cuff {
		f, b = f+cloth, b+cloth
	}
	axis := r3.Add(shoulder, r3.Scale(d, armDirection))
	return r3.Add(axis, r3.Add(r3.Scale(f*cos, fore), r3.Scale(b*sin, towardsBody)))
}

// arm grows the left arm out of an opening of the torso.
func (s *surface) arm(opening []int) {
	const first = 0.055 // the first full loop, past the deltoid's cap
	const spacing = 0.0152
	rows := [][]int{opening}
	const caps = 4
	for k := 1; k < caps; k++ {
		t := float64(k) / caps
		row := make([]int, armSides)
		for i := range row {
			from := s.at[opening[i]]
			if s.mirrored {
				from = mirror(from)
			}
			to := armPoint(first, armAngle(i, first))
			reach := r3.Norm(r3.Sub(to, from))
			p := hermite(from, r3.Scale(reach, left), to, r3.Scale(reach, armDirection), t)
			row[i] = s.add(p, armColour(0, i), armWeights(first))
			s.yield(row[i], opening[i], lerp(-0.05, first, t))
			s.loose[row[i]] = 1
		}
		rows = append(rows, row)
	}
	ds := stations(first, armLength+palmEnd-0.006, spacing, armLength-cuff-trimWidth, armLength-cuff)
	root, _ := slices.BinarySearch(ds, armLength+thumbRoot)
	thumb := patch{len(rows) + root, len(rows) + root + 2, -1, 1}
	for _, d := range ds {
		row := make([]int, armSides)
		for i := range row {
			if thumb.inside(len(rows), i, armSides) {
				row[i] = -1
				continue
			}
			row[i] = s.add(armPoint(d, armAngle(i, d)), armColour(d, i), armWeights(d))
			s.yield(row[i], opening[i], d)
			s.loose[row[i]] = 1 - smoothStep(first, first+0.05, d)
		}
		rows = append(rows, row)
	}
	s.grid(rows, thumb)
	s.thumb(thumb.rim(rows))
	s.hand(rows[len(rows)-1])
}

// The sleeve ends in a trim above the wrist.
const (
	cuff      = 0.022
	trimWidth = 0.016
)

// armAngle bunches the vertices along the stripe down to the cuff.
func armAngle(i int, d float64) float64 {
	fade := 1 - smoothStep(armLength-cuff, armLength+palmEnd-0.04, d)
	return stripeAngle(i, armSides*3/4, armSides, 13*degree, fade)
}

func armColour(d float64, side int) colour {
	outer := side - armSides*3/4
	switch {
	case d > armLength-cuff:
		return skinTone
	case d > armLength-cuff-trimWidth, outer >= -1 && outer <= 1:
		return trimTone
	}
	return shirtTone
}

// yield leaves part of an arm vertex to the joints that hold the opening: around
// the shoulder the arm takes over by degrees.
func (s *surface) yield(v, opening int, d float64) {
	own := smoothStep(-0.07, 0.125, d)
	for j, w := range s.weight[opening] {
		s.weight[v][j] = lerp(w, s.weight[v][j], own)
	}
}

func armWeights(d float64) weights {
	return handOver(d, []int{upperArmL, forearmL, handL}, [][2]float64{
		{upperArmLength - 0.04, upperArmLength + 0.04},
		{armLength - 0.025, armLength + 0.025},
	})
}

// hermite is the cubic from a to b that leaves along u and arrives along v.
func hermite(a, u, b, v r3.Vec, t float64) r3.Vec {
	t2, t3 := t*t, t*t*t
	p := r3.Add(r3.Scale(2*t3-3*t2+1, a), r3.Scale(t3-2*t2+t, u))
	return r3.Add(p, r3.Add(r3.Scale(3*t2-2*t3, b), r3.Scale(t3-t2, v)))
}
