package demo

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

const torsoColumns = 32

// torsoTable: height; half width, depth before and behind the middle, the
// middle's z, in metres; squareness of the outline (2 is an ellipse).
var torsoTable = tabulate([][]float64{
	{0.860, 0.174, 0.094, 0.110, -0.004, 2.3},
	{0.901, 0.173, 0.097, 0.110, -0.004, 2.3},
	{0.950, 0.155, 0.096, 0.096, -0.002, 2.3},
	{1.000, 0.134, 0.092, 0.078, 0.000, 2.25},
	{1.050, 0.114, 0.087, 0.067, 0.001, 2.2},
	{1.090, 0.110, 0.084, 0.066, -0.001, 2.2},
	{1.140, 0.114, 0.085, 0.071, -0.005, 2.2},
	{1.190, 0.122, 0.089, 0.079, -0.009, 2.25},
	{1.245, 0.131, 0.094, 0.087, -0.014, 2.3},
	{1.280, 0.135, 0.094, 0.090, -0.017, 2.3},
	{1.320, 0.136, 0.088, 0.089, -0.019, 2.3},
	{1.360, 0.131, 0.078, 0.085, -0.021, 2.3},
	{1.395, 0.120, 0.067, 0.076, -0.022, 2.2},
	{1.425, 0.096, 0.057, 0.065, -0.022, 2.1},
	{1.445, 0.068, 0.052, 0.058, -0.021, 2.0},
	{collar - seam/2, 0.0545, 0.0505, 0.0525, -0.018, 2.0},
	{collar + seam/2, 0.0520, 0.0480, 0.0500, -0.018, 2.0},
	{1.485, 0.048, 0.046, 0.050, -0.012, 2.0},
})

// outline is a point of a cross-section: angle 0 in front, a quarter turn on the
// left.
func outline(phi, width, front, back, square float64) (x, z float64) {
	sin, cos := math.Sincos(phi)
	depth := front
	if cos < 0 {
		depth = back
	}
	power := func(v float64) float64 { return math.Copysign(math.Pow(math.Abs(v), 2/square), v) }
	return width * power(sin), depth * power(cos)
}

func torsoPoint(y, phi float64) r3.Vec {
	t := torsoTable
	x, z := outline(phi, t.at(0, y), t.at(1, y), t.at(2, y), t.at(4, y))
	return r3.Vec{X: x, Y: y, Z: z + t.at(3, y)}
}

// torsoRows are the heights of the loops, hips to neck.
func torsoRows() []float64 {
	var ys []float64
	ys = append(ys, stations(0.905, armpit-0.021, 0.024, waist, waist+0.025)...)
	for k := 0; k <= armRows; k++ {
		ys = append(ys, lerp(armpit, shoulderTop, float64(k)/armRows))
	}
	return append(ys, 1.443, collar-seam/2, collar+seam/2, 1.478)
}

// The arms grow out of the torso where these rows meet these columns.
const (
	armRows     = 6
	armColumns  = 4
	armpit      = 1.306
	shoulderTop = 1.426
)

// torso makes the trunk from the hips to the top of the neck. It returns the
// loops and the left arm's opening.
func (s *surface) torso() (rows [][]int, arm patch) {
	const n = torsoColumns
	ys := torsoRows()
	k0 := slices.Index(ys, armpit)
	arm = patch{k0, k0 + armRows, n/4 - armColumns/2, n/4 + armColumns/2}
	other := patch{arm.k0, arm.k1, n - arm.c1, n - arm.c0}
	for k, y := range ys {
		row := make([]int, n)
		for i := range row {
			if arm.inside(k, i, n) || other.inside(k, i, n) {
				row[i] = -1
				continue
			}
			phi := torsoAngle(i, y)
			// The lowest loops dip in front and behind, along the groin.
			sin, cos := math.Sincos(phi)
			dip := 0.05 * (1 - smoothStep(0.86, 1.02, y)) * cos * cos
			p := torsoPoint(y-dip+0.012*sin*sin*(1-smoothStep(0.86, 1.02, y)), phi)
			row[i] = s.add(p, torsoColour(y, i), trunkWeights(p))
		}
		rows = append(rows, row)
	}
	s.grid(rows, arm, other)
	return rows, arm
}

// The shirt's hem and collar.
const (
	waist  = 1.005
	collar = 1.462
)

// torsoAngle bunches the columns at the sides below the waist, where the stripes
// of the leggings run.
func torsoAngle(i int, y float64) float64 {
	fade := 1 - smoothStep(waist+0.03, waist+0.12, y)
	if i < torsoColumns/2 {
		return halfStripe(i, fade)
	}
	if i == torsoColumns/2 {
		return math.Pi
	}
	return 2*math.Pi - halfStripe(torsoColumns-i, fade)
}

// halfStripe is the angle of a column of the left half.
func halfStripe(i int, fade float64) float64 {
	return stripeAngle(i, torsoColumns/4, torsoColumns/2, 2*4.8*degree, fade) / 2
}

func torsoColour(y float64, column int) colour {
	outer := min(column, torsoColumns-column) - torsoColumns/4
	switch {
	case y > collar:
		return skinTone
	case y > waist+0.025:
		return shirtTone
	case y > waist, outer >= -1 && outer <= 1:
		return trimTone
	}
	return legsTone
}

// trunkWeights hands over from joint to joint up the trunk.
func trunkWeights(p r3.Vec) weights {
	w := handOver(p.Y, []int{pelvis, spine, chest, neck, head}, [][2]float64{
		{0.97, 1.09}, {1.12, 1.27}, {1.40, 1.48}, {1.485, 1.55},
	})
	// The collar bone lifts the top of the shoulder.
	for i, x := range [2]float64{p.X, -p.X} {
		k := 0.75 * smoothStep(0.03, 0.12, x) * smoothStep(1.27, 1.37, p.Y) * w[chest]
		w[collarboneL+i] += k
		w[chest] -= k
	}
	// The thighs share what is below the groin, and between them the middle.
	sides := [2]float64{
		belowGroin(p) * smoothStep(-0.02, 0.02, p.X),
		belowGroin(mirror(p)) * smoothStep(-0.02, 0.02, -p.X),
	}
	for i, k := range sides {
		w[thighL+i] = k * w[pelvis]
	}
	w[pelvis] -= w[thighL] + w[thighR]
	return w
}

// handOver blends a chain of joints along a coordinate: zone i is where joint
// i+1 takes over from joint i. Zones do not overlap.
func handOver(x float64, chain []int, zones [][2]float64) weights {
	var w weights
	rest := 1.0
	for i, z := range zones {
		next := smoothStep(z[0], z[1], x)
		w[chain[i]] += rest - min(next, rest)
		rest = min(next, rest)
	}
	w[chain[len(zones)]] += rest
	return w
}
