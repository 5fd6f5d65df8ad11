package skin

import "gonum.org/v1/gonum/spatial/r3"

// Pieces numbers the connected pieces of a mesh, from 0 in the order of their
// first vertices, and gives each vertex the number of its piece: -1 for one that
// no triangle reaches. Vertices at exactly the same place are taken as one: a
// mesh is cut along the seams of its texture. Triangles name vertices that there
// are.
func Pieces(positions []r3.Vec, triangles [][3]int) (piece []int, count int) {
	weld := welded(positions)
	joined := newGroups(len(positions))
	reached := make([]bool, len(positions))
	for _, t := range triangles {
		for _, v := range t {
			joined.join(weld[t[0]], weld[v])
			reached[weld[v]] = true
		}
	}
	piece = make([]int, len(positions))
	numbers := map[int]int{}
	for v := range piece {
		piece[v] = -1
		if !reached[weld[v]] {
			continue
		}
		root := joined.of(weld[v])
		number, known := numbers[root]
		if !known {
			number = len(numbers)
			numbers[root] = number
		}
		piece[v] = number
	}
	return piece, len(numbers)
}
