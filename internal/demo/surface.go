package demo

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// colour is linear RGB, 0 to 1.
type colour [3]float64

// weights holds one vertex's influence of every joint.
type weights [jointCount]float64

// surface is a mesh of triangles and quads under construction.
//
// A loop is a closed row of vertices. Loops run right-handed about the direction
// in which a tube grows, so that faces come out facing outward. While mirrored is
// set everything is added on the right side from the left side's data.
type surface struct {
	at     []r3.Vec
	colour []colour
	weight []weights
	loose  []float64 // 0 holds the vertex during fairing, 1 sets it free
	faces  [][]int

	mirrored bool
}

// add makes a vertex. Points and joints are those of the left side.
func (s *surface) add(p r3.Vec, c colour, w weights) int {
	if s.mirrored {
		p = mirror(p)
		for l := collarboneL; l < jointCount; l += 2 {
			w[l], w[l+1] = w[l+1], w[l]
		}
	}
	s.at = append(s.at, p)
	s.colour = append(s.colour, c)
	s.weight = append(s.weight, w)
	s.loose = append(s.loose, 0)
	return len(s.at) - 1
}

func (s *surface) face(v ...int) {
	if s.mirrored {
		for i, j := 0, len(v)-1; i < j; i, j = i+1, j-1 {
			v[i], v[j] = v[j], v[i]
		}
	}
	s.faces = append(s.faces, v)
}

// strip joins two loops of the same length, the second further along.
func (s *surface) strip(a, b []int) {
	for i := range a {
		j := (i + 1) % len(a)
		s.face(a[i], a[j], b[j], b[i])
	}
}

// stripeAngle spreads the vertices of a loop so that those next to vertex number
// middle bound a stripe of the given half width and the ones beyond them lie
// close by, which gives the stripe an edge. fade 0 spreads all evenly.
func stripeAngle(i, middle, n int, halfWidth, fade float64) float64 {
	k := wrap(i-middle+n/2, n) - n/2
	step := 2 * math.Pi / float64(n)
	even := float64(k) * step
	side, m := 1.0, float64(k)
	if k < 0 {
		side, m = -1, -m
	}
	edge := 1.2 * halfWidth
	var bunched float64
	switch {
	case m <= 1:
		bunched = m * halfWidth
	default:
		bunched = lerp(edge, math.Pi, (m-2)/float64(n/2-2))
	}
	return lerp(even, side*bunched, fade) + float64(middle)*step
}

// fan closes a loop at a point.
func (s *surface) fan(loop []int, pole int) {
	for i := range loop {
		s.face(loop[i], loop[(i+1)%len(loop)], pole)
	}
}

// patch is a rectangle of a grid of loops: rows k0 to k1, columns c0 to c1.
type patch struct{ k0, k1, c0, c1 int }

func (p patch) holds(k, c, columns int) bool {
	c = wrap(c-p.c0, columns)
	return k >= p.k0 && k < p.k1 && c < p.c1-p.c0
}

// inside tells the vertices that an open patch leaves without a face.
func (p patch) inside(k, c, columns int) bool {
	c = wrap(c-p.c0, columns)
	return k > p.k0 && k < p.k1 && c > 0 && c < p.c1-p.c0
}

// rim is the border of a patch, right-handed about its outward normal, from the
// middle of its first column towards its first row.
func (p patch) rim(rows [][]int) []int {
	n := len(rows[0])
	at := func(k, c int) int { return rows[k][wrap(c, n)] }
	mid := (p.k0 + p.k1) / 2
	var loop []int
	for k := mid; k > p.k0; k-- {
		loop = append(loop, at(k, p.c0))
	}
	for c := p.c0; c < p.c1; c++ {
		loop = append(loop, at(p.k0, c))
	}
	for k := p.k0; k < p.k1; k++ {
		loop = append(loop, at(k, p.c1))
	}
	for c := p.c1; c > p.c0; c-- {
		loop = append(loop, at(p.k1, c))
	}
	for k := p.k1; k > mid; k-- {
		loop = append(loop, at(k, p.c0))
	}
	return loop
}

func wrap(i, n int) int { return (i%n + n) % n }

// grid joins loops in a row, leaving the patches open.
func (s *surface) grid(rows [][]int, open ...patch) {
	for k := 0; k+1 < len(rows); k++ {
		a, b := rows[k], rows[k+1]
	columns:
		for i := range a {
			for _, p := range open {
				if p.holds(k, i, len(a)) {
					continue columns
				}
			}
			j := (i + 1) % len(a)
			s.face(a[i], a[j], b[j], b[i])
		}
	}
}

// stalk grows a tube from a loop along a path of at least two points, the last of
// which closes it. radii has one entry less. The loop's first vertex lies at
// angle start about the path, from side towards path x side.
func (s *surface) stalk(loop []int, path []r3.Vec, radii []float64, side r3.Vec, start float64, c colour, w weights) {
	last := len(path) - 1
	for k := range last {
		along := r3.Unit(r3.Sub(path[k+1], path[max(k-1, 0)]))
		e0 := r3.Unit(r3.Sub(side, r3.Scale(r3.Dot(side, along), along)))
		e1 := r3.Cross(along, e0)
		side = e0
		row := make([]int, len(loop))
		for i := range row {
			sin, cos := math.Sincos(start + 2*math.Pi*float64(i)/float64(len(row)))
			around := r3.Add(r3.Scale(radii[k]*cos, e0), r3.Scale(radii[k]*sin, e1))
			row[i] = s.add(r3.Add(path[k], around), c, w)
		}
		s.strip(loop, row)
		loop = row
	}
	s.fan(loop, s.add(path[last], c, w))
}

// triangles splits the quads along their shorter diagonals.
func (s *surface) triangles() [][3]int {
	var out [][3]int
	for _, f := range s.faces {
		if len(f) == 3 {
			out = append(out, [3]int{f[0], f[1], f[2]})
			continue
		}
		a := r3.Norm2(r3.Sub(s.at[f[2]], s.at[f[0]]))
		b := r3.Norm2(r3.Sub(s.at[f[3]], s.at[f[1]]))
		if a <= b {
			out = append(out, [3]int{f[0], f[1], f[2]}, [3]int{f[0], f[2], f[3]})
		} else {
			out = append(out, [3]int{f[0], f[1], f[3]}, [3]int{f[1], f[2], f[3]})
		}
	}
	return out
}
