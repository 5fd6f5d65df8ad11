package demo

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// headTable: row; height in front and behind, half width, depth before and
// behind the middle, the middle's z, squareness. The rows tilt from the throat
// and the nape to level at the crown.
var headTable = tabulate([][]float64{
	{0, 1.482, 1.500, 0.048, 0.046, 0.051, -0.009, 2.0},
	{1, 1.481, 1.522, 0.049, 0.056, 0.056, -0.004, 2.0},
	{2, 1.477, 1.543, 0.052, 0.076, 0.066, 0.000, 1.8},
	{3, 1.476, 1.557, 0.056, 0.090, 0.076, 0.002, 1.65},
	{4, 1.484, 1.569, 0.0605, 0.0965, 0.084, 0.002, 1.65},
	{5, 1.498, 1.580, 0.0645, 0.0955, 0.090, 0.002, 1.75},
	{6, 1.513, 1.590, 0.0675, 0.0955, 0.094, 0.002, 1.85},
	{7, 1.529, 1.600, 0.0695, 0.0955, 0.097, 0.002, 1.9},
	{8, 1.546, 1.609, 0.0710, 0.0950, 0.099, 0.001, 1.95},
	{9, 1.564, 1.618, 0.0725, 0.0940, 0.100, 0.000, 2.0},
	{10, 1.582, 1.628, 0.0740, 0.0950, 0.100, 0.000, 2.0},
	{11, 1.600, 1.638, 0.0750, 0.0965, 0.098, 0.000, 2.0},
	{12, 1.620, 1.649, 0.0735, 0.0945, 0.095, -0.001, 2.0},
	{13, 1.640, 1.660, 0.0690, 0.0880, 0.089, -0.003, 2.0},
	{14, 1.658, 1.670, 0.0610, 0.0775, 0.079, -0.005, 2.0},
	{15, 1.673, 1.679, 0.0490, 0.0625, 0.064, -0.008, 2.0},
	{16, 1.684, 1.686, 0.0335, 0.0430, 0.045, -0.010, 2.0},
	{17, 1.6895, 1.690, 0.0165, 0.0210, 0.022, -0.012, 2.0},
})

// headRows are the loops made, denser over the face. Where hair begins stands a
// pair of them, which the other columns take down to the nape.
var headRows = []float64{
	0, 1, 2, 3, 3.6, 4.2, 4.8, 5.4, 6, 6.6, 7.2, 8.1, 9, 9.6, 10.2, 10.8, 11.4, 12,
	hairRow - 0.08, hairRow + 0.08, 13.05, 13.5, 14, 14.6, 15.2, 15.8, 16.4, 17,
}

const hairRow = 12.6

// hairline is where hair begins on a column counted from the front, as a row of
// the table: across the forehead, down the temples, along the nape.
func hairline(column float64) float64 {
	column = min(column, torsoColumns-column)
	return lerp(hairRow, 4.3, smoothStep(4.6, 10.6, column))
}

// bend gives the row of the table for a loop of headRows at a column.
func bend(column, row float64) float64 {
	const low, high = 2, 17
	line := hairline(column)
	switch {
	case row <= low:
		return row
	case row <= hairRow:
		return lerp(low, line, (row-low)/(hairRow-low))
	}
	return lerp(high, line, (high-row)/(high-hairRow))
}

// headAngle crowds the columns over the face: the share of crowding fades in
// from the neck, whose columns are even.
func headAngle(column, row float64) float64 {
	phi := 2 * math.Pi * column / torsoColumns
	return phi - 0.36*smoothStep(0, 4, row)*math.Sin(phi)
}

// headPoint is a point of the skin of the head, hair left out.
func headPoint(column, row float64) r3.Vec {
	t := headTable
	phi := headAngle(column, row)
	x, z := outline(phi, t.at(2, row), t.at(3, row), t.at(4, row), t.at(6, row))
	p := r3.Vec{X: x, Y: lerp(t.at(1, row), t.at(0, row), (1+math.Cos(phi))/2), Z: z + t.at(5, row)}
	return r3.Add(p, push(faceBumps, p))
}

// head grows out of the neck's loop.
func (s *surface) head(loop []int) {
	const n = torsoColumns
	rowAt := func(row float64) int { return slices.Index(headRows, row) + 1 } // 0 is the neck's own loop
	eye := patch{rowAt(9), rowAt(10.2), 2, 5}
	otherEye := patch{eye.k0, eye.k1, n - eye.c1, n - eye.c0}
	brow := patch{rowAt(10.8), rowAt(12), 1, 5}
	otherBrow := patch{brow.k0, brow.k1, n - brow.c1, n - brow.c0}
	mouth := patch{rowAt(5.4), rowAt(6.6), -4, 4}
	bun := patch{rowAt(13.5), rowAt(14.6), n/2 - 2, n/2 + 2}
	open := []patch{eye, otherEye, brow, otherBrow, mouth, bun}

	rows := [][]int{loop}
	for k, r := range headRows {
		row := make([]int, n)
		for i := range row {
			row[i] = -1
			if !slices.ContainsFunc(open, func(p patch) bool { return p.inside(k+1, i, n) }) {
				column := float64(i)
				place := bend(column, r)
				p, c := headPoint(column, place), skinTone
				if r > hairRow {
					c = hairTone
					thick := lerp(0.004, 0.011, smoothStep(hairRow, hairRow+1.5, r))
					p = r3.Add(p, r3.Scale(thick, headOut(column, place)))
				}
				row[i] = s.add(p, c, headWeights(p))
			}
		}
		rows = append(rows, row)
	}
	s.grid(rows, open...)
	crown := r3.Vec{Y: Height, Z: -0.014}
	s.fan(rows[len(rows)-1], s.add(crown, hairTone, headWeights(crown)))

	s.decal(mouth.rim(rows), 0, 6, mouthRings)
	s.decal(eye.rim(rows), 3.55, 9.62, eyeRings)
	s.decal(brow.rim(rows), 3.05, 11.2, browRings)
	s.mirrored = true
	other := mirroredRows(rows)
	s.decal(eye.rim(other), 3.55, 9.62, eyeRings)
	s.decal(brow.rim(other), 3.05, 11.2, browRings)
	s.mirrored = false
	s.bun(bun.rim(rows))
}

// headOut is the outward normal of the head, by differences.
func headOut(column, row float64) r3.Vec {
	const h = 0.05
	round := r3.Sub(headPoint(column+h, row), headPoint(column-h, row))
	rise := r3.Sub(headPoint(column, row+h), headPoint(column, row-h))
	return r3.Unit(r3.Cross(round, rise))
}

// bun gathers the hair at the back.
func (s *surface) bun(opening []int) {
	base := headPoint(torsoColumns/2, bend(torsoColumns/2, 14))
	out := r3.Unit(r3.Vec{Y: 0.45, Z: -1})
	var path []r3.Vec
	var radii []float64
	for _, p := range [][2]float64{{0.016, 0.026}, {0.021, 0.029}, {0.030, 0.036}, {0.042, 0.039}, {0.055, 0.036}, {0.065, 0.028}, {0.072, 0.015}, {0.074, 0}} {
		path = append(path, r3.Add(base, r3.Scale(p[0], out)))
		radii = append(radii, p[1])
	}
	// The rim begins on the right-hand column and goes down.
	s.stalk(opening, path, radii[:len(radii)-1], left, 0, hairTone, headWeights(base))
}

func headWeights(p r3.Vec) weights {
	return handOver(p.Y+0.35*p.Z, []int{neck, head}, [][2]float64{{1.475, 1.525}})
}
